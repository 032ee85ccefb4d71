#include "machine/yaml_tree.h"

#include <string.h>
#include <yaml.h>

enum { DEEPEST = 16 };

struct reader {
    struct wh_arena *arena;
    const char *path;
    struct wh_errors *errors;
    yaml_parser_t parser;
    yaml_event_t event; /* the one at hand; empty once dealt with */
};

static struct wh_place place_of(const struct reader *reader, yaml_mark_t mark)
{
    return (struct wh_place){reader->path, (int)mark.line + 1, (int)mark.column + 1};
}

static void close_reader(void *handle)
{
    struct reader *reader = handle;
    yaml_event_delete(&reader->event);
    yaml_parser_delete(&reader->parser);
}

static enum wh_status refuse(struct reader *reader, yaml_mark_t mark, const char *right, const char *says)
{
    return wh_errors_add(reader->errors, WH_ERR_INPUT, place_of(reader, mark), right, "%s", says);
}

static enum wh_status syntax_error(struct reader *reader)
{
    const yaml_parser_t *parser = &reader->parser;
    if (parser->error == YAML_MEMORY_ERROR) return WH_ERR_NOMEM;
    if (parser->error == YAML_READER_ERROR)
        return wh_errors_add(reader->errors, WH_ERR_INPUT, (struct wh_place){.file = reader->path}, NULL,
                             "is not plain text: %s at byte %zu", parser->problem, parser->problem_offset);
    return refuse(reader, parser->problem_mark, "check the indent, the colon after a key, and quotes",
                  parser->problem ? parser->problem : "cannot be read as YAML");
}

/* The next event, already checked for what machine files may not use. */
static enum wh_status next_event(struct reader *reader)
{
    yaml_event_t *event = &reader->event;
    yaml_event_delete(event);
    if (!yaml_parser_parse(&reader->parser, event)) return syntax_error(reader);
    const char *bad = NULL, *right = NULL;
    if (event->type == YAML_ALIAS_EVENT) {
        bad = "an alias (*) is not used in machine files", right = "write the value out";
    } else if (event->type == YAML_SCALAR_EVENT && (event->data.scalar.anchor || event->data.scalar.tag)) {
        bad = "anchors (&) and tags (!) are not used in machine files", right = "write the plain value";
    } else if (event->type == YAML_SEQUENCE_START_EVENT) {
        if (event->data.sequence_start.anchor || event->data.sequence_start.tag) {
            bad = "anchors (&) and tags (!) are not used in machine files", right = "write the plain list";
        } else if (event->data.sequence_start.style == YAML_FLOW_SEQUENCE_STYLE) {
            bad = "a list in brackets is not used in machine files", right = "write one item a line, after \"- \"";
        }
    } else if (event->type == YAML_MAPPING_START_EVENT) {
        if (event->data.mapping_start.anchor || event->data.mapping_start.tag) {
            bad = "anchors (&) and tags (!) are not used in machine files", right = "write the plain keys";
        } else if (event->data.mapping_start.style == YAML_FLOW_MAPPING_STYLE) {
            bad = "keys in braces are not used in machine files", right = "write one key a line";
        }
    }
    return bad ? refuse(reader, event->start_mark, right, bad) : WH_OK;
}

static enum wh_status read_node(struct reader *reader, int depth, struct wh_tree **ret);

static enum wh_status read_list(struct reader *reader, struct wh_tree *list, int depth)
{
    for (;;) {
        struct wh_tree *item = NULL;
        enum wh_status status = next_event(reader);
        if (status != WH_OK || reader->event.type == YAML_SEQUENCE_END_EVENT) return status;
        if ((status = read_node(reader, depth + 1, &item)) != WH_OK) return status;
        wh_tree_add(reader->arena, list, NULL, item);
    }
}

static enum wh_status read_key(struct reader *reader, const char **key)
{
    const yaml_event_t *event = &reader->event;
    if (event->type != YAML_SCALAR_EVENT)
        return refuse(reader, event->start_mark, "a key is a word or some words before a colon", "this is no key");
    *key = wh_arena_slice(reader->arena, (const char *)event->data.scalar.value, event->data.scalar.length);
    return WH_OK;
}

static enum wh_status read_map(struct reader *reader, struct wh_tree *map, int depth)
{
    for (;;) {
        const char *key = NULL;
        struct wh_tree *value = NULL;
        enum wh_status status = next_event(reader);
        if (status != WH_OK || reader->event.type == YAML_MAPPING_END_EVENT) return status;
        struct wh_place place = place_of(reader, reader->event.start_mark);
        if ((status = read_key(reader, &key)) != WH_OK) return status;
        if ((status = next_event(reader)) != WH_OK) return status;
        if ((status = read_node(reader, depth + 1, &value)) != WH_OK) return status;
        const struct wh_tree *first = wh_tree_get(map, key);
        if (first)
            wh_errors_add(reader->errors, WH_ERR_INPUT, place,
                          wh_arena_print(reader->arena, "it stands first in line %d", first->key_line),
                          "\"%s\" is doubled", key);
        wh_tree_add(reader->arena, map, key, value);
        value->key_line = place.line, value->key_column = place.column;
    }
}

/* Makes a node of the event at hand and what follows. */
static enum wh_status read_node(struct reader *reader, int depth, struct wh_tree **ret)
{
    const yaml_event_t *event = &reader->event;
    enum wh_tree_is is = event->type == YAML_SCALAR_EVENT           ? WH_TREE_TEXT
                         : event->type == YAML_SEQUENCE_START_EVENT ? WH_TREE_LIST
                                                                    : WH_TREE_MAP;
    struct wh_tree *node = wh_tree_new(reader->arena, is);
    node->place = place_of(reader, event->start_mark);
    yaml_mark_t mark = event->start_mark;
    if (is == WH_TREE_TEXT)
        node->text = wh_arena_slice(reader->arena, (const char *)event->data.scalar.value, event->data.scalar.length);
    *ret = node;
    if (depth > DEEPEST) return refuse(reader, mark, NULL, "nested too deep");
    return is == WH_TREE_LIST  ? read_list(reader, node, depth)
           : is == WH_TREE_MAP ? read_map(reader, node, depth)
                               : WH_OK;
}

/* Reads on to the next event of a type; others on the way are those that open and close the stream. */
static enum wh_status expect(struct reader *reader, yaml_event_type_t type, const char *otherwise)
{
    enum wh_status status = next_event(reader);
    if (status != WH_OK || reader->event.type == type) return status;
    return refuse(reader, reader->event.start_mark, NULL, otherwise);
}

static enum wh_status read_document(struct reader *reader, struct wh_tree **ret)
{
    enum wh_status status;
    if ((status = expect(reader, YAML_STREAM_START_EVENT, "cannot be read as YAML")) != WH_OK) return status;
    if ((status = expect(reader, YAML_DOCUMENT_START_EVENT, "the file is empty")) != WH_OK) return status;
    if ((status = next_event(reader)) != WH_OK) return status;
    if (reader->event.type != YAML_MAPPING_START_EVENT)
        return refuse(reader, reader->event.start_mark, "begin with \"format: 1\"",
                      "the file does not begin with a key");
    if ((status = read_node(reader, 0, ret)) != WH_OK) return status;
    if ((status = expect(reader, YAML_DOCUMENT_END_EVENT, "something follows the document")) != WH_OK) return status;
    return expect(reader, YAML_STREAM_END_EVENT, "a second document is not used in machine files");
}

enum wh_status wh_yaml_read(struct wh_arena *arena, const char *path, const char *bytes, size_t size,
                            struct wh_tree **ret, struct wh_errors *reterr)
{
    struct reader *reader = WH_NEW(arena, 1, struct reader);
    *reader = (struct reader){.arena = arena, .path = path, .errors = reterr};
    if (!wh_text_is_plain(bytes, size))
        return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){.file = path}, "save it as UTF-8 text",
                             "is not plain text");
    if (!yaml_parser_initialize(&reader->parser)) return WH_ERR_NOMEM;
    wh_arena_defer(arena, close_reader, reader);
    yaml_parser_set_encoding(&reader->parser, YAML_UTF8_ENCODING);
    yaml_parser_set_input_string(&reader->parser, (const unsigned char *)bytes, size);
    return read_document(reader, ret);
}
