/* record_form.h - what the readers of the record's forms share. */
#ifndef WH_TESTRUN_RECORD_FORM_H
#define WH_TESTRUN_RECORD_FORM_H

#include "base/file.h"
#include "testrun/record.h"

/* One form of file. `open` reads the head: rate (0: not said), frames, channels with names and units; `read` gives raw
 * numbers. `state` is the form's own. */
struct wh_record_form {
    const char *name;
    enum wh_status (*open)(struct wh_arena *arena, struct wh_run_record *record, struct wh_errors *reterr);
    enum wh_status (*read)(struct wh_run_record *record, size_t n, double *const to[], size_t *ret_frames,
                           struct wh_errors *reterr);
    struct wh_file *file;
    bool full_scale;   /* its numbers are shares of full scale */
    const char **unit; /* a channel's unit as the file writes it, or NULL */
    void *state;
};

bool wh_record_is_wav(const char *head, size_t size);
bool wh_record_is_uff(const char *head, size_t size);
extern const struct wh_record_form wh_record_csv, wh_record_uff, wh_record_wav;

/* Makes the channels, named "channel 1" and so on. Errors: none, or too many. */
enum wh_status wh_record_channels(struct wh_arena *arena, struct wh_run_record *record, size_t count,
                                  struct wh_errors *reterr);

#endif
