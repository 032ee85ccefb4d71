#include "base/status.h"

int wh_status_exit(enum wh_status status)
{
    static const int codes[] = {
#define WH_STATUS_CODE(name, code, words) code,
        WH_STATUS_LIST(WH_STATUS_CODE)
#undef WH_STATUS_CODE
    };
    return codes[status];
}

const char *wh_status_words(enum wh_status status)
{
    static const char *const words[] = {
#define WH_STATUS_WORDS(name, code, says) says,
        WH_STATUS_LIST(WH_STATUS_WORDS)
#undef WH_STATUS_WORDS
    };
    return words[status];
}
