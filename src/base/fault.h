/* fault.h - lets a test fail the k-th allocation or the k-th call of a file function.
 *
 * Every allocation (base/arena) and every file call (base/file) asks here first. Nothing fails unless a test asked for
 * it, in process with wh_fault_arm or for a whole program with WHARVE_FAULT=memory:7 or WHARVE_FAULT=file:7. */
#ifndef WH_BASE_FAULT_H
#define WH_BASE_FAULT_H

#include <stdbool.h>

enum wh_fault { WH_FAULT_MEMORY, WH_FAULT_FILE, WH_FAULT_KINDS };

/* The k-th call from now on of this kind fails, once; 0: none does. Counting starts anew. */
void wh_fault_arm(enum wh_fault kind, unsigned long k);

/* Reads "memory:K" or "file:K"; false when it is neither. */
bool wh_fault_arm_text(const char *text);

/* Asked before each call: true when this one has to fail. */
bool wh_fault_strikes(enum wh_fault kind);

/* Calls of this kind since it was armed. */
unsigned long wh_fault_calls(enum wh_fault kind);

#endif
