#include "trade/words.h"

#include <stdio.h>
#include <string.h>

static char small(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static bool same_word(const char *word, const char *text, size_t n)
{
    if (strlen(word) != n) return false;
    for (size_t i = 0; i < n; i++)
        if (small(word[i]) != small(text[i])) return false;
    return true;
}

size_t wh_words_place(double code, size_t count)
{
    return code >= 0 && code < (double)count ? (size_t)code : count;
}

bool wh_words_read(const char *const words[], size_t count, const char *text, size_t n, double *ret)
{
    for (size_t i = 0; i < count; i++)
        if (same_word(words[i], text, n)) {
            *ret = (double)i;
            return true;
        }
    return false;
}

size_t wh_words_print(const char *const words[], size_t count, double code, char *to, size_t room)
{
    if (!(code >= 0 && code < (double)count)) return 0;
    return (size_t)snprintf(to, room, "%s", words[(size_t)code]);
}
