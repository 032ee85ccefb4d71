/* Any bytes as a record: it is refused with words, or read to its end in finite numbers and measured; whatever is
 * doubted is said in words. */
#include "fuzz.h"
#include "testrun/measure.h"

#include <math.h>
#include <string.h>
#include <unistd.h>

enum { CAP = 128 << 20, PIECE = 100 };

struct input {
    const char *path;
};

static void check_words(struct wh_arena *arena, const struct wh_errors *errors)
{
    must(errors->count > 0 && strlen(wh_errors_text(arena, errors)) > 0);
}

static void check_channels(const struct wh_run_record *record)
{
    must(record->channels >= 1 && record->channels <= WH_RECORD_CHANNELS && record->rate >= 10 && record->rate <= 1e7);
    for (size_t c = 0; c < record->channels; c++) {
        const struct wh_record_channel *channel = &record->channel[c];
        must(channel->name && channel->place && channel->direction && channel->scale > 0 && isfinite(channel->scale));
    }
}

static void read_all(struct wh_arena *arena, struct wh_run_record *record)
{
    struct wh_errors errors = wh_errors_in(arena);
    double *to[WH_RECORD_CHANNELS];
    size_t got = 1, done = 0;
    for (size_t c = 0; c < record->channels; c++) to[c] = WH_NEW(arena, PIECE, double);
    while (got) {
        if (wh_record_read(record, PIECE, to, &got, &errors) != WH_OK) {
            check_words(arena, &errors);
            return;
        }
        for (size_t c = 0; c < record->channels; c++)
            for (size_t i = 0; i < got; i++) must(isfinite(to[c][i]));
        done += got;
    }
    must(done == record->done && done <= record->frames);
}

static enum wh_status check(struct wh_arena *arena, void *context)
{
    const struct input *input = context;
    const struct wh_record_ask ask = {.rate = "1 kHz"};
    struct wh_errors errors = wh_errors_in(arena);
    struct wh_run_record *record;
    struct wh_measured *measured;
    if (wh_record_open(arena, input->path, &ask, &record, &errors) != WH_OK) {
        check_words(arena, &errors);
        return WH_OK;
    }
    check_channels(record);
    read_all(arena, record);
    if (record->channels > 4 || wh_record_open(arena, input->path, &ask, &record, &errors) != WH_OK) return WH_OK;
    if (wh_measure(arena, record, &(struct wh_measure_ask){0}, &measured, &errors) != WH_OK)
        check_words(arena, &errors);
    return WH_OK;
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    static char path[64] = "/tmp/wharve-fuzz-XXXXXX";
    static int file = -1;
    if (file < 0) { /* one file without a name, for all inputs */
        file = mkstemp(path);
        must(file >= 0 && unlink(path) == 0);
        snprintf(path, sizeof path, "/proc/self/fd/%d", file);
    }
    must(ftruncate(file, 0) == 0 && pwrite(file, bytes, size, 0) == (ssize_t)size);
    struct input input = {path};
    enum wh_status status = wh_arena_run(CAP, check, &input);
    must(status == WH_OK || status == WH_ERR_NOMEM);
    return 0;
}
