/* session.h - who is behind a request: the cookie of a visit, and the token that its forms carry. Private to web/.
 *
 * A visit is a random word in a cookie; it is only kept here once somebody has signed in with it. The token of a visit
 * is worked out from its word with a secret of this run, so that a form made elsewhere never fits. */
#ifndef WH_WEB_SESSION_H
#define WH_WEB_SESSION_H

#include "web/page.h"

enum { WH_VISIT = 64, WH_TOKEN = 64, WH_PERSON = 80 }; /* characters, without the ending zero */

/* What a person of a role may do: "reader", "fitter", "charge hand". */
enum wh_standing wh_standing_of(const char *role);

/* Must be called once before any other. false: the library of ciphers cannot work here. */
bool wh_sessions_start(void);

/* The word of the visit in a Cookie header, copied to visit[]; false where there is none that could be ours. */
bool wh_visit_read(const char *cookie, char visit[WH_VISIT + 1]);
void wh_visit_new(char visit[WH_VISIT + 1]);

/* The token of a visit, and whether one fits, in a time that does not depend on where it differs. */
void wh_visit_token(const char visit[WH_VISIT + 1], char token[WH_TOKEN + 1]);
bool wh_token_fits(const char own[WH_TOKEN + 1], const char *token);

/* Signs a person in or out; who is signed in under a visit: false for nobody. A visit ends when it was not used for
 * 12 hours. */
bool wh_sign_in(const char visit[WH_VISIT + 1], const char *person, enum wh_standing standing);
void wh_sign_out(const char visit[WH_VISIT + 1]);
bool wh_signed_in(const char visit[WH_VISIT + 1], char person[WH_PERSON + 1], enum wh_standing *ret);

/* May a name be tried once more now? After five wrong words each further one has to wait twice as long as the last, up
 * to a quarter of an hour. Tell the outcome with wh_sign_in_tried. */
bool wh_sign_in_may_try(const char *name);
void wh_sign_in_tried(const char *name, bool good);

#endif
