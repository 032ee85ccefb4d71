/* service_report.h - the service report of a job as a document for paper/. Can be read alone.
 *
 * Everything in it was entered: equal jobs give equal documents, whatever day it is. */
#ifndef WH_VIEW_SERVICE_REPORT_H
#define WH_VIEW_SERVICE_REPORT_H

#include "base/picture.h"
#include "base/tree.h"
#include "machine/machine.h"

struct wh_report_photo {
    const char *hash; /* as the entries name it */
    struct wh_picture picture;
};

struct wh_report_print {
    const char *paper;                    /* "A4" or "Letter" */
    const char *program;                  /* "wharve 0.1.0" */
    const char *stamp;                    /* the hash of the job's last entry */
    const struct wh_machine *machine;     /* as it was when the job was opened, for the section; NULL: no section */
    const struct wh_tree *centres;        /* of wh_view_centres; or NULL */
    const struct wh_tree *run;            /* of wh_view_test_run; or NULL */
    const struct wh_report_photo *photos; /* of the entries, those that can be printed */
    size_t photo_count;
};

/* job: as wh_view_job gives it. */
struct wh_tree *wh_view_service_report(struct wh_arena *arena, const struct wh_tree *job,
                                       const struct wh_report_print *print);

#endif
