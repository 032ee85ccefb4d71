/* pages.h - the list of all pages: page_NAME.c gives each group. Private to web/. */
#ifndef WH_WEB_PAGES_H
#define WH_WEB_PAGES_H

#include "web/house.h"
#include "web/page.h"

extern const struct wh_route wh_routes[];
extern const size_t wh_route_count;

void wh_page_machines(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_machine(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_part(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_start(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_rules(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_rule(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_static(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);

#endif
