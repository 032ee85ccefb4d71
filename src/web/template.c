#include "web/template.h"

#include "paper/paper.h"

#include <string.h>

enum { DEEPEST_USE = 16, DEEPEST_BLOCK = 32, MOST_WORDS = 80 };

enum is { TEXT, VALUE, DRAW, USE, IF, FOR, WITH, ELSE, END };

/* A piece of a template. Pieces stand in the order of the file; a block knows where it ends. */
struct piece {
    enum is is;
    const char *at;        /* the text, or the name */
    size_t count;          /* of a text */
    const char *value;     /* of "if name is value", or NULL */
    size_t otherwise, end; /* of a block: the pieces after its {{else}} (or its end), and after its {{end}} */
};

struct template
{
    const char *name;
    const struct piece *pieces;
    size_t count;
};

struct wh_templates {
    struct template *at;
    size_t count;
};

struct reader {
    struct wh_arena *arena;
    struct wh_errors *errors;
    const char *file;
    int line;
    WH_LIST(struct piece) pieces;
    size_t open[DEEPEST_BLOCK]; /* blocks that are not yet ended */
    size_t depth;
};

const struct wh_page_file *wh_page_file(const char *name)
{
    for (size_t i = 0; i < wh_page_file_count; i++)
        if (wh_same(wh_page_files[i].name, name)) return &wh_page_files[i];
    return NULL;
}

void wh_escape(struct wh_text *to, const char *text, size_t n)
{
    static const char *const written[][2] = {
        {"&", "&amp;"}, {"<", "&lt;"}, {">", "&gt;"}, {"\"", "&quot;"}, {"'", "&#39;"}};
    size_t from = 0;
    for (size_t i = 0; i < n; i++) {
        for (size_t w = 0; w < sizeof written / sizeof *written; w++) {
            if (text[i] != written[w][0][0]) continue;
            wh_text_add_slice(to, text + from, i - from);
            wh_text_add(to, written[w][1]);
            from = i + 1;
        }
    }
    wh_text_add_slice(to, text + from, n - from);
}

static enum wh_status wrong(struct reader *r, const char *right, const char *says)
{
    return wh_errors_add(r->errors, WH_ERR_INPUT, (struct wh_place){.file = r->file, .line = r->line}, right, "%s",
                         says);
}

static void add_text(struct reader *r, const char *at, size_t n)
{
    if (n > 0) *WH_PUSH(r->arena, &r->pieces) = (struct piece){.is = TEXT, .at = at, .count = n};
    for (size_t i = 0; i < n; i++) r->line += at[i] == '\n';
}

static enum is word_of(const char **inside)
{
    static const struct {
        const char *word;
        enum is is;
    } words[] = {{"for ", FOR}, {"with ", WITH}, {"if ", IF}, {"use ", USE}, {"draw ", DRAW}};
    if (wh_same(*inside, "else")) return ELSE;
    if (wh_same(*inside, "end")) return END;
    for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
        if (!wh_starts(*inside, words[i].word)) continue;
        *inside += strlen(words[i].word);
        return words[i].is;
    }
    return VALUE;
}

static enum wh_status close_block(struct reader *r, enum is is)
{
    if (r->depth == 0) return wrong(r, NULL, is == END ? "{{end}} ends nothing" : "{{else}} belongs to nothing");
    struct piece *block = &r->pieces.at[r->open[r->depth - 1]];
    if (is == ELSE && block->is != IF)
        return wrong(r, "only {{if …}} has an {{else}}", "{{else}} is in the wrong place");
    if (is == ELSE && block->otherwise) return wrong(r, NULL, "a second {{else}}");
    if (is == ELSE) {
        *WH_PUSH(r->arena, &r->pieces) = (struct piece){.is = ELSE};
        r->pieces.at[r->open[r->depth - 1]].otherwise = r->pieces.count;
        return WH_OK;
    }
    block->end = r->pieces.count;
    if (!block->otherwise) block->otherwise = block->end;
    r->depth--;
    return WH_OK;
}

static enum wh_status add_braces(struct reader *r, const char *inside)
{
    struct piece piece = {.is = word_of(&inside), .at = inside};
    if (piece.is == ELSE || piece.is == END) return close_block(r, piece.is);
    const char *is = piece.is == IF ? strstr(inside, " is ") : NULL;
    if (is) {
        piece.at = wh_arena_slice(r->arena, inside, (size_t)(is - inside));
        piece.value = is + 4;
    }
    if (!*piece.at) return wrong(r, "write {{title}}", "a name is missing");
    *WH_PUSH(r->arena, &r->pieces) = piece;
    if (piece.is < IF) return WH_OK;
    if (r->depth == DEEPEST_BLOCK) return wrong(r, NULL, "blocks stand too deep in each other");
    r->open[r->depth++] = r->pieces.count - 1;
    return WH_OK;
}

static enum wh_status read_file(struct reader *r, const char *bytes, size_t size)
{
    size_t from = 0;
    enum wh_status status = WH_OK;
    for (size_t i = 0; i + 1 < size && status == WH_OK;) {
        if (bytes[i] != '{' || bytes[i + 1] != '{') {
            i++;
            continue;
        }
        size_t n = 0, room = size - i - 2 < MOST_WORDS ? size - i - 2 : MOST_WORDS;
        const char *inside = bytes + i + 2;
        add_text(r, bytes + from, i - from);
        while (n + 1 < room && (inside[n] != '}' || inside[n + 1] != '}') && inside[n] != '\n') n++;
        if (n + 1 >= room || inside[n] != '}') return wrong(r, "end it with }} on the same line", "{{ is not ended");
        status = add_braces(r, wh_arena_slice(r->arena, inside, n));
        i = from = i + n + 4;
    }
    add_text(r, bytes + from, size - from);
    if (status == WH_OK && r->depth > 0) return wrong(r, "write {{end}}", "a block is not ended");
    return status;
}

static const char *name_of(struct wh_arena *arena, const char *file)
{
    size_t n = strlen(file);
    return n > 5 && wh_same(file + n - 5, ".html") ? wh_arena_slice(arena, file, n - 5) : NULL;
}

static const struct template *find(const struct wh_templates *templates, const char *name)
{
    for (size_t i = 0; i < templates->count; i++)
        if (wh_same(templates->at[i].name, name)) return &templates->at[i];
    return NULL;
}

static void check_uses(const struct wh_templates *templates, struct wh_errors *errors)
{
    for (size_t t = 0; t < templates->count; t++)
        for (size_t i = 0; i < templates->at[t].count; i++) {
            const struct piece *piece = &templates->at[t].pieces[i];
            if (piece->is == USE && !find(templates, piece->at))
                wh_errors_add(errors, WH_ERR_INPUT, (struct wh_place){.file = templates->at[t].name}, NULL,
                              "there is no template \"%s\" to use", piece->at);
        }
}

enum wh_status wh_templates_read(struct wh_arena *arena, const struct wh_page_file files[], size_t count,
                                 const struct wh_templates **ret, struct wh_errors *reterr)
{
    struct wh_templates *templates = WH_NEW(arena, 1, struct wh_templates);
    templates->at = WH_NEW(arena, count, struct template);
    for (size_t i = 0; i < count; i++) {
        const char *name = name_of(arena, files[i].name);
        struct reader reader = {.arena = arena, .errors = reterr, .file = files[i].name, .line = 1};
        if (!name) continue;
        read_file(&reader, files[i].bytes, files[i].size);
        templates->at[templates->count++] = (struct template){name, reader.pieces.at, reader.pieces.count};
    }
    check_uses(templates, reterr);
    *ret = templates;
    return wh_errors_status(reterr);
}

/* Where a name is looked up: a node, and the place outside of it. */
struct scope {
    const struct wh_tree *node;
    const struct scope *outer;
};

struct filling {
    const struct wh_templates *templates;
    struct wh_text *to;
    int depth;
};

static const struct wh_tree *look_up(const struct scope *scope, const char *name)
{
    if (wh_same(name, ".")) return scope->node;
    for (; scope; scope = scope->outer) {
        const struct wh_tree *found =
            scope->node && scope->node->is == WH_TREE_MAP ? wh_tree_get(scope->node, name) : NULL;
        if (found) return found;
    }
    return NULL;
}

static bool holds(const struct piece *piece, const struct scope *scope)
{
    const struct wh_tree *node = look_up(scope, piece->at);
    if (piece->value) return node && wh_same(node->text, piece->value);
    if (!node) return false;
    if (node->is == WH_TREE_LIST || node->is == WH_TREE_MAP) return node->count > 0;
    if (node->is == WH_TREE_SCENE) return node->scene != NULL;
    return node->text && *node->text && !(node->is == WH_TREE_TRUTH && wh_same(node->text, "false"));
}

static bool fill(struct filling *f, const struct template *template, size_t from, size_t to, const struct scope *scope);

static bool fill_block(struct filling *f, const struct template *template, size_t at, const struct scope *scope)
{
    const struct piece *piece = &template->pieces[at];
    if (piece->is == IF)
        return holds(piece, scope) ? fill(f, template, at + 1, piece->otherwise, scope)
                                   : fill(f, template, piece->otherwise, piece->end, scope);
    const struct wh_tree *node = look_up(scope, piece->at);
    if (!node) return true;
    if (piece->is == WITH) return fill(f, template, at + 1, piece->end, &(struct scope){node, scope});
    for (const struct wh_tree *item = node->first; item; item = item->next)
        if (!fill(f, template, at + 1, piece->end, &(struct scope){item, scope})) return false;
    return true;
}

static bool fill_use(struct filling *f, const char *name, const struct scope *scope)
{
    const struct template *other = find(f->templates, name);
    if (!other || f->depth == DEEPEST_USE) return false;
    f->depth++;
    bool good = fill(f, other, 0, other->count, scope);
    f->depth--;
    return good;
}

static bool fill(struct filling *f, const struct template *template, size_t from, size_t to, const struct scope *scope)
{
    for (size_t i = from; i < to; i++) {
        const struct piece *piece = &template->pieces[i];
        const struct wh_tree *node = piece->is == VALUE || piece->is == DRAW ? look_up(scope, piece->at) : NULL;
        if (piece->is == TEXT) wh_text_add_slice(f->to, piece->at, piece->count);
        if (piece->is == VALUE && node && node->text) wh_escape(f->to, node->text, strlen(node->text));
        bool drawn = piece->is == DRAW && node && node->is == WH_TREE_SCENE && node->scene;
        if (drawn && wh_paper_svg(f->to->arena, node->scene, f->to) != WH_OK) return false;
        if (piece->is == USE && !fill_use(f, piece->at, scope)) return false;
        if (piece->is == IF || piece->is == FOR || piece->is == WITH) {
            if (!fill_block(f, template, i, scope)) return false;
            i = piece->end - 1;
        }
    }
    return true;
}

bool wh_templates_fill(const struct wh_templates *templates, const char *name, const struct wh_tree *tree,
                       struct wh_text *to)
{
    const struct template *template = find(templates, name);
    struct filling filling = {templates, to, 0};
    return template && fill(&filling, template, 0, template->count, &(struct scope){tree, NULL});
}
