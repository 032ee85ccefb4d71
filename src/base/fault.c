#include "base/fault.h"

#include "base/text.h"

#include <stdatomic.h>

static atomic_ulong calls[WH_FAULT_KINDS], fatal[WH_FAULT_KINDS]; /* asked by several threads */

void wh_fault_arm(enum wh_fault kind, unsigned long k)
{
    calls[kind] = 0;
    fatal[kind] = k;
}

bool wh_fault_arm_text(const char *text)
{
    static const char *const words[WH_FAULT_KINDS] = {"memory:", "file:"};
    for (int kind = 0; kind < WH_FAULT_KINDS; kind++)
        if (wh_starts(text, words[kind])) {
            const char *digits = text + (kind == WH_FAULT_MEMORY ? 7 : 5);
            unsigned long k = 0;
            if (!*digits) return false;
            for (; *digits >= '0' && *digits <= '9'; digits++) k = 10 * k + (unsigned long)(*digits - '0');
            if (*digits) return false;
            wh_fault_arm((enum wh_fault)kind, k);
            return true;
        }
    return false;
}

bool wh_fault_strikes(enum wh_fault kind)
{
    return atomic_fetch_add_explicit(&calls[kind], 1, memory_order_relaxed) + 1 == fatal[kind];
}

unsigned long wh_fault_calls(enum wh_fault kind)
{
    return calls[kind];
}
