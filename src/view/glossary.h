/* glossary.h - the trade's words, as this program means them. */
#ifndef WH_VIEW_GLOSSARY_H
#define WH_VIEW_GLOSSARY_H

#include <stddef.h>

struct wh_term {
    const char *word, *means;
};

extern const struct wh_term wh_terms[];
extern const size_t wh_term_count;

#endif
