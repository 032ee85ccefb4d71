#include "web/form.h"

#include <string.h>

static int digit_of(char c)
{
    if (c >= '0' && c <= '9') return c - '0';
    if (c >= 'a' && c <= 'f') return c - 'a' + 10;
    return c >= 'A' && c <= 'F' ? c - 'A' + 10 : -1;
}

/* Undoes "+" and "%21"; NULL for a wrong escape or no plain text. Line ends become single ones. */
static const char *unescaped(struct wh_arena *arena, const char *at, size_t n)
{
    char *to = wh_arena_get(arena, n + 1);
    size_t size = 0;
    if (n > WH_FORM_TEXT) return NULL;
    for (size_t i = 0; i < n; i++) {
        char c = at[i] == '+' ? ' ' : at[i];
        if (at[i] == '%') {
            int high = i + 2 < n ? digit_of(at[i + 1]) : -1;
            int low = high >= 0 ? digit_of(at[i + 2]) : -1;
            if (low < 0) return NULL;
            c = (char)(high * 16 + low);
            i += 2;
        }
        if (c != '\r') to[size++] = c;
    }
    to[size] = 0;
    return wh_text_is_plain(to, size) ? to : NULL;
}

static const char *trimmed(struct wh_arena *arena, const char *text)
{
    size_t n = strlen(text), from = strspn(text, " \t\n");
    while (n > from && strchr(" \t\n", text[n - 1])) n--;
    return wh_arena_slice(arena, text + from, n - from);
}

static bool add_field(struct wh_form_sent *form, struct wh_field field)
{
    if (form->count == WH_FORM_FIELDS || !field.name) return false;
    form->fields[form->count++] = field;
    return true;
}

bool wh_form_read_line(struct wh_arena *arena, const char *bytes, size_t size, struct wh_form_sent *ret)
{
    size_t fields = 1;
    for (size_t i = 0; i < size; i++) fields += bytes[i] == '&';
    if (fields > WH_FORM_FIELDS) fields = WH_FORM_FIELDS;
    *ret = (struct wh_form_sent){.fields = WH_NEW(arena, fields, struct wh_field)};
    for (size_t from = 0; from < size;) {
        const char *end = memchr(bytes + from, '&', size - from);
        size_t n = end ? (size_t)(end - bytes) - from : size - from;
        const char *equals = memchr(bytes + from, '=', n);
        size_t name = equals ? (size_t)(equals - bytes) - from : n;
        if (n > 0) {
            const char *text = equals ? unescaped(arena, equals + 1, n - name - 1) : "";
            if (!text) return false;
            if (!add_field(
                    ret, (struct wh_field){.name = unescaped(arena, bytes + from, name), .text = trimmed(arena, text)}))
                return false;
        }
        from += n + 1;
    }
    return true;
}

static const char *find(const char *bytes, size_t size, const char *what, size_t n)
{
    const char *end = bytes + size;
    for (const char *at = bytes; (size_t)(end - at) >= n && (at = memchr(at, what[0], (size_t)(end - at))); at++)
        if ((size_t)(end - at) >= n && memcmp(at, what, n) == 0) return at;
    return NULL;
}

/* The text of `key="…"` in a header line, NULL for none. */
static const char *quoted(struct wh_arena *arena, const char *line, size_t n, const char *key)
{
    size_t k = strlen(key);
    const char *from = find(line, n, key, k);
    if (!from || (from > line && from[-1] != ' ' && from[-1] != ';')) return NULL;
    from += k;
    const char *end = memchr(from, '"', n - (size_t)(from - line));
    if (!end) return NULL;
    size_t length = (size_t)(end - from);
    return wh_text_is_plain(from, length) && length < 200 ? wh_arena_slice(arena, from, length) : NULL;
}

/* One part: its head up to the empty line, its body after it. */
static bool read_part(struct wh_arena *arena, const char *bytes, size_t size, struct wh_form_sent *form)
{
    const char *body = find(bytes, size, "\r\n\r\n", 4);
    if (!body) return false;
    size_t head = (size_t)(body - bytes), n = size - head - 4;
    const char *name = quoted(arena, bytes, head, "name=\"");
    bool is_file = quoted(arena, bytes, head, "filename=\"") != NULL;
    body += 4;
    if (is_file) return add_field(form, (struct wh_field){.name = name, .bytes = body, .size = n});
    if (n > WH_FORM_TEXT || !name) return false;
    char *text = wh_arena_get(arena, n + 1);
    size_t kept = 0;
    for (size_t i = 0; i < n; i++)
        if (body[i] != '\r') text[kept++] = body[i];
    return wh_text_is_plain(text, kept) &&
           add_field(form, (struct wh_field){.name = name, .text = trimmed(arena, text)});
}

/* "--" and the boundary that the content type names; NULL for none or a wrong one. */
static const char *mark_of(struct wh_arena *arena, const char *type)
{
    const char *at = strstr(type, "boundary=");
    if (!at) return NULL;
    at += strlen("boundary=");
    size_t quote = *at == '"', n = strcspn(at + quote, quote ? "\"" : "; ");
    return n >= 1 && n <= 70 ? wh_arena_print(arena, "\r\n--%.*s", (int)n, at + quote) : NULL;
}

bool wh_form_read_parts(struct wh_arena *arena, const char *type, const char *bytes, size_t size,
                        struct wh_form_sent *ret)
{
    const char *mark = mark_of(arena, type);
    *ret = (struct wh_form_sent){.fields = WH_NEW(arena, WH_FORM_FIELDS, struct wh_field)};
    if (!mark) return false;
    size_t m = strlen(mark), at = m - 2; /* the first has no line end before it */
    if (size < at || memcmp(bytes, mark + 2, at) != 0) return false;
    while (true) {
        if (size - at >= 2 && memcmp(bytes + at, "--", 2) == 0) return true;
        if (size - at < 2 || memcmp(bytes + at, "\r\n", 2) != 0) return false;
        at += 2;
        const char *end = find(bytes + at, size - at, mark, m);
        if (!end || !read_part(arena, bytes + at, (size_t)(end - bytes) - at, ret)) return false;
        at = (size_t)(end - bytes) + m;
    }
}

const char *wh_form_text(const struct wh_form_sent *form, const char *name, const char *otherwise)
{
    for (size_t i = 0; i < form->count; i++)
        if (wh_same(form->fields[i].name, name) && form->fields[i].text) return form->fields[i].text;
    return otherwise;
}

const struct wh_field *wh_form_file(const struct wh_form_sent *form, const char *name)
{
    for (size_t i = 0; i < form->count; i++)
        if (wh_same(form->fields[i].name, name) && form->fields[i].bytes && form->fields[i].size > 0)
            return &form->fields[i];
    return NULL;
}

const char *wh_address_text(struct wh_arena *arena, const char *text)
{
    static const char plain[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_.~";
    struct wh_text to = {.arena = arena};
    for (; *text; text++) {
        if (strchr(plain, *text))
            wh_text_add_slice(&to, text, 1);
        else
            wh_text_print(&to, "%%%02X", (unsigned)(unsigned char)*text);
    }
    return wh_text_of(&to);
}
