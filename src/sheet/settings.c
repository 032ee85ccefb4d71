#include "sheet/settings.h"

#include "base/text.h"

#include <string.h>

static const struct wh_place NOWHERE = {0};

const struct wh_set *wh_settings_find(const struct wh_settings *settings, size_t thing, const char *name)
{
    for (size_t s = 0; s < settings->count; s++)
        if (settings->at[s].thing == thing && wh_same(settings->at[s].name, name)) return &settings->at[s];
    return NULL;
}

const char *wh_bound_name(struct wh_arena *arena, const char *with, const char *slot)
{
    struct wh_words pairs = with ? wh_split(arena, with, ',') : (struct wh_words){0};
    size_t n = strlen(slot);
    for (size_t i = 0; i < pairs.count; i++)
        if (strncmp(pairs.at[i], slot, n) == 0 && pairs.at[i][n] == '=') return pairs.at[i] + n + 1;
    return slot;
}

/* The form of a value that may be set: a key's, a filled-in value's, a figure's, or an input's of one of its rules. */
static bool settable(struct wh_arena *arena, const struct wh_thing *thing, const char *name, struct wh_form *ret)
{
    const struct wh_given_value *value = wh_thing_value(thing, name);
    if (value) return *ret = value->form, true;
    const struct wh_key *key = wh_kind_key(thing->kind, name);
    if (key && (strcmp(key->form, "size") == 0 ? wh_form_read("0.. mm", ret) : wh_form_read(key->form, ret)))
        return true;
    for (size_t r = 0; r < wh_kind_rules(thing->kind); r++) {
        const struct wh_kind_rule *bound = &thing->kind->rules[r];
        const struct wh_rule *rule = wh_kind_rule(bound);
        if (wh_same(bound->as ? bound->as : rule->out[0].name, name)) return wh_form_read(rule->out[0].range, ret);
        for (size_t i = 0; i < wh_rule_inputs(rule); i++)
            if (wh_same(wh_bound_name(arena, bound->with, rule->in[i].name), name))
                return wh_form_read(rule->in[i].range, ret);
    }
    return false;
}

/* A designation is read once, with the file, into the values it stands for; set later it would change none of them. */
static bool is_designation(const struct wh_thing *thing, const char *name)
{
    struct wh_form form;
    const struct wh_key *key = wh_kind_key(thing->kind, name);
    return key && thing->kind->fill && wh_form_read(key->form, &form) && form.vocabulary;
}

static void refuse_role(struct wh_arena *arena, const struct wh_machine *machine, const struct wh_setting *setting,
                        size_t thing, const char *name, struct wh_errors *reterr)
{
    const char *dot = strchr(name, '.'), *role = wh_arena_slice(arena, name, (size_t)(dot - name));
    size_t other = wh_thing_role(machine, thing, role);
    wh_errors_add(reterr, WH_ERR_INPUT, NOWHERE,
                  other == WH_NONE ? "write part.value=\"…\""
                                   : wh_arena_print(arena, "set \"%s%s\"", machine->things[other].id, dot),
                  other == WH_NONE ? "\"%s\": no \"%s\" is named there" : "\"%s\" is a value of its \"%s\"",
                  setting->name, role);
}

static void refuse_unknown(struct wh_arena *arena, const struct wh_machine *machine, const struct wh_setting *setting,
                           size_t thing, const char *id, struct wh_errors *reterr)
{
    size_t count;
    const char **ids = wh_machine_ids(arena, machine, &count);
    const char *nearest = thing == WH_NONE ? wh_nearest(id, ids, count) : NULL;
    wh_errors_add(reterr, WH_ERR_INPUT, NOWHERE,
                  nearest ? wh_arena_print(arena, "did you mean \"%s\"?", nearest)
                          : "write part.value=\"…\", for example neck-seat.diameter=\"45.006 mm\"",
                  "\"%s\" is no value of this machine", setting->name);
}

static void read_setting(struct wh_arena *arena, const struct wh_machine *machine, const struct wh_setting *setting,
                         struct wh_set *ret, struct wh_errors *reterr)
{
    const char *dot = strchr(setting->name, '.'), *name = dot ? dot + 1 : "";
    const char *id = wh_arena_slice(arena, setting->name, dot ? (size_t)(dot - setting->name) : 0);
    size_t thing = dot ? wh_machine_thing(machine, id) : WH_NONE;
    const struct wh_thing *t = thing == WH_NONE ? NULL : &machine->things[thing];
    *ret = (struct wh_set){.thing = thing, .name = name, .text = setting->text, .origin = setting->origin};
    if (t && strchr(name, '.')) {
        refuse_role(arena, machine, setting, thing, name, reterr);
    } else if (t && is_designation(t, name)) {
        wh_errors_add(reterr, WH_ERR_INPUT, NOWHERE, "set the values it stands for, or change the file",
                      "\"%s\" is read with the machine file and cannot be set", setting->name);
    } else if (!t || !settable(arena, t, name, &ret->form)) {
        refuse_unknown(arena, machine, setting, thing, id, reterr);
    } else {
        wh_form_value(&ret->form, setting->name, setting->text, NOWHERE, &ret->value, reterr);
    }
}

enum wh_status wh_settings_read(struct wh_arena *arena, const struct wh_machine *machine,
                                const struct wh_setting settings[], size_t n, struct wh_settings *ret,
                                struct wh_errors *reterr)
{
    struct wh_set *at = WH_NEW(arena, n + 1, struct wh_set);
    size_t before = reterr->count;
    for (size_t s = 0; s < n; s++) {
        read_setting(arena, machine, &settings[s], &at[s], reterr);
        for (size_t i = 0; i < s; i++)
            if (wh_same(settings[i].name, settings[s].name))
                wh_errors_add(reterr, WH_ERR_INPUT, NOWHERE, "set it once", "\"%s\" is set twice, to %s and to %s",
                              settings[s].name, settings[i].text, settings[s].text);
    }
    *ret = (struct wh_settings){at, n};
    return reterr->count > before ? WH_ERR_INPUT : WH_OK;
}
