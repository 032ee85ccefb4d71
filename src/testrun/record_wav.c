/* WAV and its long kinds, through libsndfile, which reads through base/file. */
#include "testrun/record_form.h"

#include <sndfile.h>
#include <string.h>

enum { PIECE = 8192 }; /* samples of all channels read at a time */

struct wav {
    SNDFILE *file;
    struct wh_file *from;
    struct wh_errors *errors;
    bool failed; /* the disk, not the form */
    size_t promised;
    double piece[PIECE];
};

bool wh_record_is_wav(const char *head, size_t size)
{
    return size >= 12 && (memcmp(head, "RIFF", 4) == 0 || memcmp(head, "RF64", 4) == 0 ||
                          memcmp(head, "RIFX", 4) == 0 || memcmp(head, "riff", 4) == 0);
}

/* ---- the file, as the library wants it --------------------------------------------------------------------------- */

static sf_count_t size_of(void *user)
{
    return (sf_count_t)wh_file_size(((struct wav *)user)->from);
}

static sf_count_t seek_in(sf_count_t offset, int whence, void *user)
{
    struct wav *wav = user;
    sf_count_t base = whence == SEEK_CUR   ? (sf_count_t)wh_file_tell(wav->from)
                      : whence == SEEK_END ? (sf_count_t)wh_file_size(wav->from)
                                           : 0;
    if (base + offset < 0) return -1;
    wav->failed = wav->failed || wh_file_seek(wav->from, (uint64_t)(base + offset), wav->errors) != WH_OK;
    return wav->failed ? -1 : base + offset;
}

static sf_count_t read_from(void *to, sf_count_t count, void *user)
{
    struct wav *wav = user;
    size_t got = 0;
    if (wh_file_take(wav->from, to, (size_t)count, &got, wav->errors) != WH_OK) wav->failed = true;
    return (sf_count_t)got;
}

static sf_count_t tell_in(void *user)
{
    return (sf_count_t)wh_file_tell(((struct wav *)user)->from);
}

static SF_VIRTUAL_IO door = {size_of, seek_in, read_from, NULL, tell_in};

static void close_wav(void *handle)
{
    struct wav *wav = handle;
    if (wav->file) sf_close(wav->file);
}

/* ---- opening and reading ---------------------------------------------------------------------------------------- */

static enum wh_status refuse(const struct wh_run_record *record, const char *says, const char *why,
                             struct wh_errors *reterr)
{
    return wh_errors_add(reterr, WH_ERR_INPUT, (struct wh_place){.file = record->path}, NULL, "%s%s", says, why);
}

static bool holds_shares(int format)
{
    int coded = format & SF_FORMAT_SUBMASK;
    return coded != SF_FORMAT_FLOAT && coded != SF_FORMAT_DOUBLE;
}

/* The library reads a file that is cut short up to its end; what the head promised stands in its log. */
static void doubt_cut(struct wh_run_record *record, SNDFILE *file)
{
    char log[8192];
    int n = sf_command(file, SFC_GET_LOG_INFO, log, sizeof log);
    if (n > 0 && n < (int)sizeof log && strstr(log, "(should be "))
        wh_doubt(&record->doubts, "the file is cut short: its head promises more than it holds");
}

static enum wh_status open_wav(struct wh_arena *arena, struct wh_run_record *record, struct wh_errors *reterr)
{
    SF_INFO info = {0};
    struct wav *wav = WH_NEW(arena, 1, struct wav);
    wav->from = record->inside->file;
    wav->errors = reterr;
    record->inside->state = wav;
    wh_arena_defer(arena, close_wav, wav);
    wav->file = sf_open_virtual(&door, SFM_READ, &info, wav);
    if (wav->failed) return WH_ERR_FILE;
    if (!wav->file) return refuse(record, "is no sound WAV file: ", sf_strerror(NULL), reterr);
    if (info.frames <= 0) return refuse(record, "holds no samples", "", reterr);
    doubt_cut(record, wav->file);
    record->rate = info.samplerate;
    record->frames = wav->promised = (size_t)info.frames;
    record->inside->full_scale = holds_shares(info.format);
    return wh_record_channels(arena, record, info.channels > 0 ? (size_t)info.channels : 0, reterr);
}

static enum wh_status read_wav(struct wh_run_record *record, size_t n, double *const to[], size_t *ret_frames,
                               struct wh_errors *reterr)
{
    struct wav *wav = record->inside->state;
    size_t channels = record->channels, most = PIECE / channels, done = 0;
    wav->errors = reterr;
    while (done < n) {
        size_t ask = n - done < most ? n - done : most;
        sf_count_t got = sf_readf_double(wav->file, wav->piece, (sf_count_t)ask);
        if (wav->failed) return WH_ERR_FILE;
        if (got <= 0) break;
        for (size_t c = 0; c < channels; c++)
            for (size_t i = 0; i < (size_t)got; i++) to[c][done + i] = wav->piece[i * channels + c];
        done += (size_t)got;
    }
    if (done == 0 && record->done < wav->promised)
        wh_doubt(&record->doubts, "the file ends after %.4g s, its head promises %.4g s",
                 (double)record->done / record->rate, (double)wav->promised / record->rate);
    *ret_frames = done;
    return WH_OK;
}

const struct wh_record_form wh_record_wav = {.name = "WAV", .open = open_wav, .read = read_wav};
