/* words.h - a vocabulary that is a plain list of words, each numbered by its place in the list. */
#ifndef WH_TRADE_WORDS_H
#define WH_TRADE_WORDS_H

#include <stdbool.h>
#include <stddef.h>

/* The place of a word, small and capital letters alike; false when the list has no such word. */
bool wh_words_read(const char *const words[], size_t count, const char *text, size_t n, double *ret);

/* The word of a place, like snprintf; 0 past the end. */
size_t wh_words_print(const char *const words[], size_t count, double code, char *to, size_t room);

/* The place that a code means in a table of `count` rows; `count` for none. */
size_t wh_words_place(double code, size_t count);

/* Defines the three functions of a vocabulary over the list WORDS, and its entry for a subject's table. */
#define WH_WORDS(NAME, WORDS)                                                                               \
    static bool NAME##_read(const char *text, size_t n, double *ret)                                        \
    {                                                                                                       \
        return wh_words_read(WORDS, sizeof WORDS / sizeof *WORDS, text, n, ret);                            \
    }                                                                                                       \
    static size_t NAME##_print(double code, char *to, size_t room)                                          \
    {                                                                                                       \
        return wh_words_print(WORDS, sizeof WORDS / sizeof *WORDS, code, to, room);                         \
    }                                                                                                       \
    static size_t NAME##_list(size_t i, char *to, size_t room)                                              \
    {                                                                                                       \
        return NAME##_print((double)i, to, room);                                                           \
    }
#define WH_WORDS_ENTRY(NAME) .read = NAME##_read, .print = NAME##_print, .list = NAME##_list

#endif
