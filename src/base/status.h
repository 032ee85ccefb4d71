/* status.h - how a function says whether it did its work. What a person should read about it goes into base/error.h. */
#ifndef WH_BASE_STATUS_H
#define WH_BASE_STATUS_H

/* name, exit status of the program, words */
#define WH_STATUS_LIST(X)                                                                                   \
    X(OK, 0, "fine")                                                                                        \
    X(ERR_INPUT, 2, "the input is not right")                                                               \
    X(ERR_FILE, 3, "a file could not be read or written")                                                   \
    X(ERR_NOMEM, 4, "out of memory")                                                                        \
    X(ERR_LIMIT, 5, "a limit of the program was reached")                                                   \
    X(ERR_NO_ANSWER, 6, "there is no answer")                                                               \
    X(ERR_CHILD, 7, "a helper process did not finish its work")

enum wh_status {
#define WH_STATUS_NAME(name, code, words) WH_##name,
    WH_STATUS_LIST(WH_STATUS_NAME)
#undef WH_STATUS_NAME
};

/* The exit status of the program for a status, and its words. */
int wh_status_exit(enum wh_status status);
const char *wh_status_words(enum wh_status status);

#endif
