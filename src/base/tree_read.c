/* Reads JSON into trees: recursive, with a limit of levels; texts are copied with their escapes undone. */
#include "base/quantity.h"
#include "base/tree.h"

#include <stdint.h>
#include <string.h>

enum { MOST_LEVELS = 32, MOST_KEYS = 256 };

struct reader {
    struct wh_arena *arena;
    struct wh_errors *errors;
    const char *name, *start, *at, *end;
    const char *counted;   /* up to here lines are counted, */
    struct wh_place place; /* and this is its place */
};

static struct wh_place place_of(struct reader *r)
{
    if (r->at < r->counted) {
        r->counted = r->start;
        r->place = (struct wh_place){r->name, 1, 1};
    }
    const char *end;
    while ((end = memchr(r->counted, '\n', (size_t)(r->at - r->counted)))) {
        r->counted = end + 1;
        r->place.line++;
        r->place.column = 1;
    }
    r->place.column += (int)(r->at - r->counted);
    r->counted = r->at;
    return r->place;
}

static struct wh_tree *complain(struct reader *r, const char *says)
{
    wh_errors_add(r->errors, WH_ERR_INPUT, place_of(r), NULL, "%s", says);
    return NULL;
}

static void skip_space(struct reader *r)
{
    while (r->at < r->end && (*r->at == ' ' || *r->at == '\t' || *r->at == '\n' || *r->at == '\r')) r->at++;
}

static bool take(struct reader *r, char c)
{
    skip_space(r);
    if (r->at == r->end || *r->at != c) return false;
    r->at++;
    return true;
}

/* Four hexadecimal digits; -1: they are not. */
static int32_t hex4(struct reader *r)
{
    static const char digits[] = "0123456789abcdef";
    int32_t code = 0;
    if (r->end - r->at < 4) return -1;
    for (int i = 0; i < 4; i++) {
        char c = *r->at++;
        const char *digit = strchr(digits, c >= 'A' && c <= 'F' ? c - 'A' + 'a' : c);
        if (!c || !digit) return -1;
        code = 16 * code + (int32_t)(digit - digits);
    }
    return code;
}

static void add_code(struct wh_text *to, uint32_t code)
{
    char utf8[4];
    size_t more = code < 0x80 ? 0 : code < 0x800 ? 1 : code < 0x10000 ? 2 : 3;
    static const unsigned lead[] = {0, 0xC0, 0xE0, 0xF0};
    for (size_t i = more; i > 0; i--, code >>= 6) utf8[i] = (char)(0x80u | (code & 0x3Fu));
    utf8[0] = (char)(lead[more] | code);
    wh_text_add_slice(to, utf8, more + 1);
}

/* \uXXXX, or two of them for a character beyond the first 65,536; no half of a pair, no zero byte. */
static bool unicode_escape(struct reader *r, struct wh_text *to)
{
    int32_t code = hex4(r);
    if (code >= 0xD800 && code < 0xDC00 && r->end - r->at >= 2 && r->at[0] == '\\' && r->at[1] == 'u') {
        r->at += 2;
        int32_t low = hex4(r);
        if (low < 0xDC00 || low > 0xDFFF) return false;
        code = 0x10000 + ((code - 0xD800) << 10) + (low - 0xDC00);
    }
    if (code <= 0 || (code >= 0xD800 && code <= 0xDFFF)) return false;
    add_code(to, (uint32_t)code);
    return true;
}

static bool escape(struct reader *r, struct wh_text *to)
{
    static const char letters[] = "\"\\/bfnrt", means[] = "\"\\/\b\f\n\r\t";
    char c = r->at < r->end ? *r->at++ : '\0';
    if (c == 'u') return unicode_escape(r, to);
    const char *letter = c ? strchr(letters, c) : NULL;
    if (letter) wh_text_add_slice(to, &means[letter - letters], 1);
    return letter != NULL;
}

/* The end of what stands for itself in a text. */
static const char *plain_end(const struct reader *r)
{
    const char *at = r->at;
    while (at < r->end && *at != '"' && *at != '\\' && (unsigned char)*at >= ' ') at++;
    return at;
}

/* A text, the opening quote taken; NULL after a complaint. */
static const char *read_text(struct reader *r)
{
    const char *start = r->at, *end = plain_end(r);
    if (end < r->end && *end == '"' &&
        wh_text_is_utf8(start, (size_t)(end - start))) { /* without escapes, as most are */
        r->at = end + 1;
        return wh_arena_slice(r->arena, start, (size_t)(end - start));
    }
    struct wh_text text = {.arena = r->arena};
    wh_text_add(&text, "");
    for (;;) {
        const char *from = r->at;
        r->at = plain_end(r);
        wh_text_add_slice(&text, from, (size_t)(r->at - from));
        if (r->at == r->end || (unsigned char)*r->at < ' ') {
            complain(r, "a text does not end");
            return NULL;
        }
        if (*r->at++ == '"') break;
        if (!escape(r, &text)) {
            complain(r, "no such escape in a text");
            return NULL;
        }
    }
    if (wh_text_is_utf8(text.at, text.count)) return text.at;
    complain(r, "a text is not UTF-8");
    return NULL;
}

/* true, false, null or a number: its letters as they stand. */
static struct wh_tree *read_word(struct reader *r)
{
    const char *from = r->at;
    while (r->at < r->end && strchr("+-.0123456789Eabcdefghijklmnopqrstuvwxyz", *r->at) && *r->at) r->at++;
    const char *word = wh_arena_slice(r->arena, from, (size_t)(r->at - from));
    bool truth = wh_same(word, "true") || wh_same(word, "false");
    double number;
    const char *rest = truth || wh_same(word, "null") ? "" : wh_number_read(word, &number);
    if (!rest || *rest || !*word) {
        r->at = from;
        return complain(r, "here a value has to stand: a text in quotes, a number, true, false, null, a list or a map");
    }
    struct wh_tree *leaf = wh_tree_new(r->arena, truth ? WH_TREE_TRUTH : WH_TREE_NUMBER);
    leaf->text = word;
    return leaf;
}

static struct wh_tree *read_value(struct reader *r, int level);

static struct wh_tree *read_items(struct reader *r, int level)
{
    struct wh_tree *list = wh_tree_new(r->arena, WH_TREE_LIST);
    if (take(r, ']')) return list;
    do {
        struct wh_tree *item = read_value(r, level + 1);
        if (!item) return NULL;
        wh_tree_add(r->arena, list, NULL, item);
    } while (take(r, ','));
    return take(r, ']') ? list : complain(r, "a comma or the end of the list is missing");
}

static struct wh_tree *read_members(struct reader *r, int level)
{
    struct wh_tree *map = wh_tree_new(r->arena, WH_TREE_MAP);
    if (take(r, '}')) return map;
    do {
        skip_space(r);
        struct wh_place place = place_of(r);
        if (!take(r, '"')) return complain(r, "here a key in quotes has to stand");
        const char *key = read_text(r);
        if (!key) return NULL;
        if (wh_tree_get(map, key)) return complain(r, "this key stands there twice");
        if (map->count == MOST_KEYS) return complain(r, "more than 256 keys in a map");
        if (!take(r, ':')) return complain(r, "the colon after a key is missing");
        struct wh_tree *value = read_value(r, level + 1);
        if (!value) return NULL;
        wh_tree_add(r->arena, map, key, value);
        value->key_line = place.line, value->key_column = place.column;
    } while (take(r, ','));
    return take(r, '}') ? map : complain(r, "a comma or the end of the map is missing");
}

static struct wh_tree *read_any(struct reader *r, int level)
{
    if (level > MOST_LEVELS) return complain(r, "too many levels of lists and maps");
    if (take(r, '{')) return read_members(r, level);
    if (take(r, '[')) return read_items(r, level);
    if (!take(r, '"')) return read_word(r);
    const char *text = read_text(r);
    if (!text) return NULL;
    struct wh_tree *leaf = wh_tree_new(r->arena, WH_TREE_TEXT);
    leaf->text = text;
    return leaf;
}

static struct wh_tree *read_value(struct reader *r, int level)
{
    skip_space(r);
    struct wh_place place = place_of(r);
    struct wh_tree *value = read_any(r, level);
    if (value) value->place = place;
    return value;
}

enum wh_status wh_tree_read(struct wh_arena *arena, const char *name, const char *bytes, size_t size,
                            struct wh_tree **ret, struct wh_errors *reterr)
{
    struct reader r = {arena, reterr, name, bytes, bytes, bytes + size, bytes, {name, 1, 1}};
    if (!take(&r, '{')) {
        complain(&r, "a map has to stand here");
        return WH_ERR_INPUT;
    }
    struct wh_tree *tree = read_members(&r, 1);
    if (!tree) return WH_ERR_INPUT;
    tree->place = (struct wh_place){name, 1, 1};
    skip_space(&r);
    if (r.at != r.end) {
        complain(&r, "something stands after the end");
        return WH_ERR_INPUT;
    }
    *ret = tree;
    return WH_OK;
}
