/* pages.h - the list of all pages: page_NAME.c gives each group. Private to web/. */
#ifndef WH_WEB_PAGES_H
#define WH_WEB_PAGES_H

#include "web/house.h"
#include "web/page.h"
#include "web/session.h"

extern const struct wh_route wh_routes[];
extern const size_t wh_route_count;

/* The number of a job or of an entry, as an address or a form says it. */
bool wh_job_number(const char *text, int64_t *ret);

void wh_page_machines(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_machine(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_part(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_balance(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_start(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_open_job(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_test_run(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_enter_record(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_due(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_rules(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_rule(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_static(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_jobs(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_job(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_job_steps(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_job_holds(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_job_hold(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_job_readings(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_job_entries(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_job_form(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_job_since(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_job_papers(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_job_report(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_job_look(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_enter(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_photo(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_gauges(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_enter_gauge(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_sign_in(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_sign_in_form(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_units(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);
void wh_page_sign_out(const struct wh_house *house, const struct wh_request *request, struct wh_reply *reply);

#endif
