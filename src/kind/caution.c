/* The usual cautions of the trade, named by the steps of kinds. */
#include "kind/kind.h"

#include <string.h>

static const struct wh_caution cautions[] = {
    {"drawing-off", "warning", "eye",
     "A puller under load throws splinters: goggles on, nobody in line with it, wrap a cloth round the ring."},
    {"rusted-seat", "warning", "crush",
     "The pull worked out is for a clean seat and no upper bound for a rusted one. Watch the puller's rating; stop, "
     "then heat or cut the ring."},
    {"hot-ring", "warning", "hot",
     "The ring is hot enough to burn: dry heat-proof gloves, tongs or a lifting hook, a clear way from the heat to the "
     "seat."},
    {"heat-how", "caution", "hot",
     "Induction heater or oven before an oil bath. Never a flame. Never a bath for a sealed or greased bearing."},
    {"tight-ring", "notice", "", "Push or pull the ring that has the tight fit; both at once if both are tight. Never "
                                 "through the balls or rollers."},
    {"one-push", "notice", "",
     "Once it touches the cold seat it grips in seconds: one push to the shoulder, no stop, no hammer. Stopped short: "
     "pull it off at once and warm it again."},
    {"wrapped", "notice", "",
     "The new bearing stays wrapped until this minute; it is not washed and never spun with air."},
    {"sharp-lip", "notice", "",
     "The lip must not meet a bare edge, keyway or pin hole: use the seal sleeve, oil the lip."},
    {"no-hot-seal", "caution", "hot", "No seal near a ring above 40 degC."},
    {"springs", "warning", "eye", "A retaining ring jumps: goggles on, hand over the ring."},
    {"left-hand", "notice", "", "LEFT-HAND thread: it loosens clockwise."},
    {"belt-fingers", "warning", "crush",
     "A belt under pull takes fingers: slacken first, turn by hand only, never at the nip."},
    {"never-centre-punch", "notice", "",
     "Match-mark before parting: scribe or paint. Never a centre punch on a rotor, ring or spindle."},
    {"cracks", "warning", "",
     "Any crack, pit at a root or mark past its limit: stop, out of use, the maker decides. No mending, grinding or "
     "welding of a rotor."},
    {"wheel-cracks", "warning", "",
     "Look at every weld and blade root in a low light: any crack, stop, out of use, the maker decides. No mending, "
     "grinding or welding of a wheel."},
    {"dry-faces", "notice", "",
     "A mechanical seal that turns dry is spoilt in seconds: no turn under power before the casing is filled and "
     "aired."},
    {"starts-by-itself", "warning", "manual",
     "A level switch starts the pump without a hand on the button: locked off until everybody is out."},
    {"balanced-set", "notice", "",
     "A balanced set stays together: compare the numbers, never a part from a sister machine."},
    {"hanging", "warning", "hanging-load",
     "Nobody under or beside the hanging load; it goes straight to its place and is set down before anything else is "
     "done."},
    {"oil-floor", "caution", "", "Warm oil runs fast: tray under it, wipe the floor before you go on."},
    {"level-not-litres", "notice", "",
     "Litres are for shopping, the level is for filling: upright, level, still, and look again after 10 minutes."},
    {"adhesive-dry", "notice", "", "Thread adhesive needs clean dry threads; work with the window open and gloves on."},
    {"wrench", "notice", "", "A torque wrench is a gauge: in calibration, between 20 and 100 % of its scale, one "
                             "click, back to zero afterwards."},
    {"rubber-care", "notice", "", "Rubber goes in with soap water, never with oil or grease."},
    {"electric", "danger", "electricity", "Leads are parted and joined by an electrician who has proved them dead."},
    {"interlock", "warning", "manual", "An interlock is tried, never bridged."},
    {"rotor-run", "warning", "rotating", "Nobody in the plane of the rotor, a hand on the stop."},
};

const struct wh_caution *wh_caution_find(const char *name)
{
    for (size_t i = 0; i < sizeof cautions / sizeof *cautions; i++)
        if (strcmp(cautions[i].name, name) == 0) return &cautions[i];
    return NULL;
}
