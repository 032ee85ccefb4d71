/* subjects.h - the subjects of the handbook, one line each, in its order. Included twice by rules.c. */
SUBJECT(fit)
SUBJECT(press)
SUBJECT(lubricant)
SUBJECT(thread)
SUBJECT(belt)
SUBJECT(seal)
