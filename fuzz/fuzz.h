/* fuzz.h - what a fuzz target shares with the two programs that feed it: libFuzzer and replay.c. */
#ifndef WH_FUZZ_FUZZ_H
#define WH_FUZZ_FUZZ_H

#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);

/* A property that has to hold for every input. */
#define must(property)                                                              \
    do {                                                                            \
        if (!(property)) {                                                          \
            fprintf(stderr, "%s:%d: not so: %s\n", __FILE__, __LINE__, #property);  \
            abort();                                                                \
        }                                                                           \
    } while (0)

#endif
