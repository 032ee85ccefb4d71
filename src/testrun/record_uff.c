/* Universal files: data set 58, functions at nodal DOF, in letters or in bytes; one data set a channel. Others, and
 * functions that are no time records, are passed over.
 * Form: universal dataset number 58 of the open description of universal files, from memory; records of fixed width. */
#include "testrun/record_form.h"
#include "testrun/record_lines.h"

#include "base/quantity.h"

#include <math.h>
#include <string.h>

enum { HEAD_LINES = 11, SINGLE = 2, DOUBLE = 4, TIME = 17, PIECE = 4096, WIDEST = 24 };

/* What lies behind a data set's head. */
struct data {
    uint64_t at; /* place of the first value */
    int line;    /* the one before it */
    size_t count;
    bool single, bytes, swapped;
    double step; /* s */
    const char *unit, *name, *place, *direction;
    enum wh_measure of;
};

struct uff {
    struct wh_arena *arena;
    struct wh_run_record *record;
    struct wh_lines *lines; /* of the whole file, when it is opened */
    WH_LIST(struct data) data;
    struct wh_lines **own; /* of each channel, when it is read */
    const char **row;      /* what is left of each channel's line */
    size_t passed;         /* functions that are no time records */
    unsigned char piece[PIECE * 8];
};

/* ---- fields of fixed width -------------------------------------------------------------------------------------- */

static bool is_mark(const char *line)
{
    return strncmp(line, "    -1", 6) == 0 && line[6 + strspn(line + 6, " ")] == '\0';
}

bool wh_record_is_uff(const char *head, size_t size)
{
    while (size && (*head == '\r' || *head == '\n')) head++, size--;
    return size > 12 && strncmp(head, "    -1", 6) == 0;
}

/* The n characters from a column on, without the spaces round them. */
static const char *field(struct wh_arena *arena, const char *line, size_t column, size_t n)
{
    size_t length = strlen(line);
    if (column >= length) return "";
    if (n > length - column) n = length - column;
    const char *at = line + column;
    while (n && *at == ' ') at++, n--;
    while (n && at[n - 1] == ' ') n--;
    return wh_arena_slice(arena, at, n);
}

/* A number of fixed width, with Fortran's D for E; false when it is none. */
static bool number(const char *at, size_t n, double *ret)
{
    char text[WIDEST + 1];
    size_t count = 0;
    for (size_t i = 0; i < n && at[i]; i++)
        if (at[i] != ' ' && count < WIDEST) text[count++] = (char)(at[i] == 'D' || at[i] == 'd' ? 'e' : at[i]);
    text[count] = '\0';
    const char *end = wh_number_read(text, ret);
    return count > 0 && end && *end == '\0';
}

static bool number_at(const char *line, size_t column, size_t n, double *ret)
{
    return strlen(line) > column && number(line + column, n, ret);
}

/* A whole number from 0 to 1e15; `otherwise` where there is none. */
static double whole_at(const char *line, size_t column, size_t n, double otherwise)
{
    double value;
    return number_at(line, column, n, &value) && value >= 0 && value <= 1e15 && value <= floor(value) ? value
                                                                                                      : otherwise;
}

/* ---- a head ----------------------------------------------------------------------------------------------------- */

static enum wh_status refuse(const struct uff *uff, int line, const char *says, struct wh_errors *reterr)
{
    struct wh_place place = {.file = uff->record->path, .line = line, .column = 1};
    return wh_errors_add(reterr, WH_ERR_INPUT, place, NULL, "data set 58: %s", says);
}

static enum wh_measure measure_of(double type, const char *name)
{
    if (strstr(name, "tacho") || strstr(name, "Tacho") || strstr(name, "TACHO")) return WH_TACHO;
    return type < 8.5 && type > 7.5     ? WH_DISPLACEMENT
           : type < 11.5 && type > 10.5 ? WH_VELOCITY
           : type < 12.5 && type > 11.5 ? WH_ACCELERATION
                                        : WH_NOT_STATED;
}

/* Where it was taken: the entity's name, or the node's number; and its axis. */
static void read_point(struct uff *uff, const char *line, struct data *data)
{
    static const char *const axes[] = {"-z", "-y", "-x", "", "+x", "+y", "+z"};
    const char *entity = field(uff->arena, line, 31, 10);
    double node = whole_at(line, 41, 10, 0), axis = 0;
    if (!number_at(line, 51, 4, &axis) || !(axis >= -3 && axis <= 3)) axis = 0;
    data->direction = axes[(int)axis + 3];
    data->place = *entity && !wh_same(entity, "NONE") ? wh_arena_print(uff->arena, "%s %.0f", entity, node)
                                                      : wh_arena_print(uff->arena, "point %.0f", node);
    data->name = *data->direction ? wh_arena_print(uff->arena, "%s %s", data->place, data->direction) : data->place;
}

/* The unit written beside the values; where none is, SI. */
static void read_unit(struct uff *uff, const char *line, const char *first, struct data *data)
{
    const char *unit = field(uff->arena, line, 47, 20);
    data->of = measure_of(whole_at(line, 0, 10, 0), first);
    data->unit = wh_same(unit, "NONE") ? "" : unit;
    if (*data->unit || data->of == WH_NOT_STATED || data->of == WH_TACHO) return;
    data->unit = wh_measure_unit(data->of);
    wh_doubt(&uff->record->doubts, "%s: no unit is written, %s is taken", data->name, data->unit);
}

/* The eleven lines of a head into *ret; *ret_time false when it is no record of time. */
static enum wh_status read_head(struct uff *uff, char *const head[HEAD_LINES], struct data *ret, bool *ret_time,
                                struct wh_errors *reterr)
{
    int line = uff->lines->line;
    double type = whole_at(head[6], 0, 10, 0), even = whole_at(head[6], 20, 10, -1);
    double count = whole_at(head[6], 10, 10, 0), abscissa = whole_at(head[7], 0, 10, 0);
    *ret_time = abscissa > TIME - 0.5 && abscissa < TIME + 0.5 && whole_at(head[5], 0, 5, 0) < 1.5;
    if (!*ret_time) return WH_OK;
    ret->single = type < SINGLE + 0.5;
    if (!(type > 1.5 && type < DOUBLE + 0.5) || (type > 2.5 && type < 3.5))
        return refuse(uff, line - 4, "its values are neither single nor double numbers", reterr);
    if (even < 0.5) return refuse(uff, line - 4, "values at uneven steps are not read", reterr);
    if (!number_at(head[6], 43, 13, &ret->step) || !(ret->step > 0))
        return refuse(uff, line - 4, "the step of time is no number above 0", reterr);
    if (!(count >= 1)) return refuse(uff, line - 4, "no values", reterr);
    ret->count = (size_t)count;
    read_point(uff, head[5], ret);
    read_unit(uff, head[8], head[0], ret);
    return WH_OK;
}

/* ---- data sets -------------------------------------------------------------------------------------------------- */

/* Goes to the end of a data set in letters. */
static enum wh_status pass(struct uff *uff, struct wh_errors *reterr)
{
    char *line;
    enum wh_status status = WH_OK;
    do status = wh_lines_next(uff->lines, &line, reterr);
    while (status == WH_OK && line && !is_mark(line));
    return status;
}

/* "    58b     1     2          11       16384": the order and form of the bytes, how many there are. */
static enum wh_status read_bytes(struct uff *uff, const char *line, struct data *data, uint64_t *ret_size,
                                 struct wh_errors *reterr)
{
    double order = whole_at(line, 7, 6, 0), form = whole_at(line, 13, 6, 0), size = whole_at(line, 31, 12, -1);
    if (!(form > 1.5 && form < 2.5))
        return refuse(uff, uff->lines->line, "its bytes are not in the form of IEEE 754", reterr);
    if (!(order > 0.5 && order < 2.5))
        return refuse(uff, uff->lines->line, "the order of its bytes is neither 1 nor 2", reterr);
    if (size < 0) return refuse(uff, uff->lines->line, "it does not say how many bytes it has", reterr);
    data->bytes = true;
    data->swapped = order > 1.5; /* the greatest first */
    *ret_size = (uint64_t)size;
    return WH_OK;
}

/* Is there as much as the head says? A value in letters takes 13 columns at least. */
static enum wh_status check_size(struct uff *uff, const struct data *data, uint64_t bytes, struct wh_errors *reterr)
{
    uint64_t left = wh_file_size(uff->lines->file) - data->at, wanted = data->count * (uint64_t)(data->single ? 4 : 8);
    if (data->bytes && (bytes > left || wanted > bytes))
        return refuse(uff, data->line,
                      wh_arena_print(uff->arena, "%zu values are promised, there are bytes for %zu", data->count,
                                     (size_t)((bytes < left ? bytes : left) / (data->single ? 4 : 8))),
                      reterr);
    if (!data->bytes && data->count > left / 13 + 1)
        return refuse(uff, data->line,
                      wh_arena_print(uff->arena, "%zu values are promised, the file ends before", data->count), reterr);
    return WH_OK;
}

static enum wh_status read_function(struct uff *uff, const char *first, struct wh_errors *reterr)
{
    struct data data = {0};
    char *line, *head[HEAD_LINES];
    uint64_t bytes = 0;
    bool time = false;
    enum wh_status status = first[6] == 'b' ? read_bytes(uff, first, &data, &bytes, reterr) : WH_OK;
    for (size_t h = 0; h < HEAD_LINES && status == WH_OK; h++) {
        if ((status = wh_lines_next(uff->lines, &line, reterr)) != WH_OK) break;
        if (!line || is_mark(line))
            return refuse(uff, uff->lines->line, "its head has fewer than eleven lines", reterr);
        head[h] = wh_arena_text(uff->arena, line);
    }
    if (status == WH_OK) status = read_head(uff, head, &data, &time, reterr);
    data.at = wh_lines_tell(uff->lines);
    data.line = uff->lines->line;
    if (status == WH_OK && time) status = check_size(uff, &data, bytes, reterr);
    if (status != WH_OK) return status;
    if (time) *WH_PUSH(uff->arena, &uff->data) = data;
    uff->passed += !time;
    uint64_t left = wh_file_size(uff->lines->file) - data.at;
    if (data.bytes) wh_lines_go(uff->lines, data.at + (bytes < left ? bytes : left), data.line);
    return pass(uff, reterr);
}

/* All data sets of the file. */
static enum wh_status read_sets(struct uff *uff, struct wh_errors *reterr)
{
    char *line;
    enum wh_status status;
    while ((status = wh_lines_next(uff->lines, &line, reterr)) == WH_OK && line) {
        if (!is_mark(line)) continue;
        if ((status = wh_lines_next(uff->lines, &line, reterr)) != WH_OK || !line) break;
        if (strncmp(line, "    58", 6) != 0)
            status = is_mark(line) ? WH_OK : pass(uff, reterr);
        else if ((status = read_function(uff, wh_arena_text(uff->arena, line), reterr)) != WH_OK)
            break;
        if (uff->data.count > WH_RECORD_CHANNELS) break;
    }
    return status;
}

/* ---- opening and reading ---------------------------------------------------------------------------------------- */

/* A step is written with six digits: a whole number of samples a second within their rounding is meant. */
static double rate_of(double step)
{
    double whole = round(1 / step);
    return fabs(whole * step - 1) <= 5e-6 ? whole : 1 / step;
}

static enum wh_status take_channels(struct uff *uff, struct wh_errors *reterr)
{
    struct wh_run_record *record = uff->record;
    enum wh_status status = wh_record_channels(uff->arena, record, uff->data.count, reterr);
    if (status != WH_OK) return status;
    const struct data *first = uff->data.at;
    record->rate = rate_of(first->step);
    record->frames = first->count;
    uff->own = WH_NEW(uff->arena, record->channels, struct wh_lines *);
    uff->row = WH_NEW(uff->arena, record->channels, const char *);
    for (size_t c = 0; c < record->channels; c++) {
        const struct data *data = &uff->data.at[c];
        struct wh_record_channel *channel = &record->channel[c];
        if (fabs(data->step / first->step - 1) > 1e-6)
            return refuse(uff, data->line, "its step of time is not that of the first", reterr);
        if (data->count != first->count)
            wh_doubt(&record->doubts, "%s has %zu values, the first channel %zu: all end with the shortest", data->name,
                     data->count, first->count);
        if (data->count < record->frames) record->frames = data->count;
        *channel = (struct wh_record_channel){data->name, data->place, data->direction, data->of, 1};
        record->inside->unit[c] = data->unit;
        uff->row[c] = "";
        if (data->bytes) continue;
        uff->own[c] = wh_lines_open(uff->arena, record->inside->file, record->path);
        wh_lines_go(uff->own[c], data->at, data->line);
    }
    return WH_OK;
}

static enum wh_status open_uff(struct wh_arena *arena, struct wh_run_record *record, struct wh_errors *reterr)
{
    struct uff *uff = WH_NEW(arena, 1, struct uff);
    uff->arena = arena;
    uff->record = record;
    uff->lines = wh_lines_open(arena, record->inside->file, record->path);
    record->inside->state = uff;
    enum wh_status status = read_sets(uff, reterr);
    if (status != WH_OK) return status;
    if (uff->data.count == 0)
        return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){.file = record->path},
                             "a data set 58 with a function of time", "a universal file without a record of time");
    if (uff->passed)
        wh_doubt(&record->doubts, "%zu functions that are no records of time are passed over", uff->passed);
    return take_channels(uff, reterr);
}

static enum wh_status read_letters(struct uff *uff, size_t c, size_t n, double to[], struct wh_errors *reterr)
{
    size_t width = uff->data.at[c].single ? 13 : 20;
    struct wh_lines *lines = uff->own[c];
    for (size_t i = 0; i < n; i++) {
        while (uff->row[c][strspn(uff->row[c], " ")] == '\0') {
            char *line;
            enum wh_status status = wh_lines_next(lines, &line, reterr);
            if (status != WH_OK) return status;
            if (!line || is_mark(line)) return refuse(uff, lines->line, "it ends before its last value", reterr);
            uff->row[c] = line;
        }
        const char *row = uff->row[c];
        size_t length = strlen(row), taken = length < width ? length : width;
        if (!number(row, taken, &to[i]))
            return refuse(uff, lines->line, wh_arena_print(uff->arena, "\"%.*s\" is not a number", (int)taken, row),
                          reterr);
        uff->row[c] = row + taken;
    }
    return WH_OK;
}

static double value_of(const unsigned char *at, bool single, bool swapped)
{
    unsigned char bytes[8] = {0};
    size_t size = single ? 4 : 8;
    double value;
    float small;
    for (size_t i = 0; i < size; i++) bytes[i] = at[swapped ? size - 1 - i : i];
    memcpy(&small, bytes, sizeof small);
    memcpy(&value, bytes, sizeof value);
    return single ? (double)small : value;
}

static enum wh_status read_binary(struct uff *uff, size_t c, size_t n, double to[], struct wh_errors *reterr)
{
    const struct data *data = &uff->data.at[c];
    struct wh_file *file = uff->record->inside->file;
    size_t size = data->single ? 4 : 8, got;
    enum wh_status status = wh_file_seek(file, data->at + uff->record->done * size, reterr);
    if (status != WH_OK) return status;
    for (size_t done = 0; done < n; done += got / size) {
        size_t wanted = n - done < PIECE ? n - done : PIECE;
        status = wh_file_take(file, uff->piece, wanted * size, &got, reterr);
        if (status != WH_OK) return status;
        if (got < wanted * size) return refuse(uff, data->line, "it ends before its last value", reterr);
        for (size_t i = 0; i < wanted; i++) to[done + i] = value_of(uff->piece + i * size, data->single, data->swapped);
    }
    return WH_OK;
}

static enum wh_status read_uff(struct wh_run_record *record, size_t n, double *const to[], size_t *ret_frames,
                               struct wh_errors *reterr)
{
    struct uff *uff = record->inside->state;
    size_t left = record->frames - record->done;
    if (n > left) n = left;
    for (size_t c = 0; c < record->channels && n; c++) {
        enum wh_status status =
            uff->data.at[c].bytes ? read_binary(uff, c, n, to[c], reterr) : read_letters(uff, c, n, to[c], reterr);
        if (status != WH_OK) return status;
    }
    *ret_frames = n;
    return WH_OK;
}

const struct wh_record_form wh_record_uff = {.name = "universal file", .open = open_uff, .read = read_uff};
