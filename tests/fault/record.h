/* record.h - writes down what a program does to the files below one folder, so that the disk of any moment can be built
 * again. Linked into the program: its own calls, and those of its libraries, come by here. */
#ifndef WH_TESTS_FAULT_RECORD_H
#define WH_TESTS_FAULT_RECORD_H

/* From now on, everything below `root` is written down in the file `record`. */
void record_start(const char *root, const char *record);

/* The program acknowledges something to somebody outside: it is written down, or printed when nothing is. */
void record_acknowledge(const char *words);

#endif
