#include "sheet/draw.h"

#include <math.h>

static const uint64_t step = UINT64_C(0x9e3779b97f4a7c15); /* 2^64 over the golden ratio, odd */
static const double foot = 3.442619855899;                 /* where the tail begins */
static const double area = 9.91256303526217e-3;            /* of a layer, under exp(-x^2/2) */

static uint64_t mix(uint64_t z)
{
    z = (z ^ (z >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94d049bb133111eb);
    return z ^ (z >> 31);
}

static double from_zero_to_one(uint64_t bits)
{
    return (double)(int64_t)(bits >> 11) * 0x1p-53;
}

uint64_t wh_draw_stream(uint64_t seed, const char *name)
{
    uint64_t stream = mix(seed + step);
    for (const char *c = name; *c; c++) stream = mix(stream + step * (uint64_t)(1 + (unsigned char)*c));
    return stream;
}

void wh_draw_layers(struct wh_draw_layers *ret)
{
    double height = exp(-foot * foot / 2);
    ret->edge[0] = area / height;
    ret->edge[1] = foot;
    for (int i = 2; i < WH_DRAW_LAYERS; i++) {
        ret->edge[i] = sqrt(-2 * log(area / ret->edge[i - 1] + height));
        height = exp(-ret->edge[i] * ret->edge[i] / 2);
    }
    ret->edge[WH_DRAW_LAYERS] = 0;
    for (int i = 0; i < WH_DRAW_LAYERS; i++) ret->inner[i] = ret->edge[i + 1] / ret->edge[i];
}

/* Beyond the foot. Further numbers come from a stream that only this trial has. */
static double tail(uint64_t *own)
{
    double x, y;
    do {
        x = -log(1 - from_zero_to_one(mix(*own += step))) / foot;
        y = -log(1 - from_zero_to_one(mix(*own += step)));
    } while (y + y < x * x);
    return foot + x;
}

/* What fell past the inner part of its layer: under the curve, in the tail, or drawn anew. */
static double at_the_edge(uint64_t bits, const struct wh_draw_layers *layers)
{
    uint64_t own = mix(bits ^ step);
    for (;; bits = mix(own += step)) {
        size_t i = bits & (WH_DRAW_LAYERS - 1);
        double share = (double)((int64_t)bits >> 11) * 0x1p-52, x = share * layers->edge[i];
        if (fabs(share) < layers->inner[i]) return x;
        if (i == 0) return share < 0 ? -tail(&own) : tail(&own);
        double low = exp((x * x - layers->edge[i] * layers->edge[i]) / 2);
        double high = exp((x * x - layers->edge[i + 1] * layers->edge[i + 1]) / 2);
        if (low + from_zero_to_one(mix(own += step)) * (high - low) < 1) return x;
    }
}

static void draw_normal(const struct wh_value *value, uint64_t counter, size_t n, const struct wh_draw_layers *layers,
                        double column[])
{
    for (size_t t = 0; t < n; t++) {
        uint64_t bits = mix(counter += step);
        size_t i = bits & (WH_DRAW_LAYERS - 1);
        double share = (double)((int64_t)bits >> 11) * 0x1p-52; /* from -1 to 1, by other bits than the layer */
        double z = fabs(share) < layers->inner[i] ? share * layers->edge[i] : at_the_edge(bits, layers);
        column[t] = value->best + value->u * z;
    }
}

void wh_draw_column(const struct wh_value *value, uint64_t stream, uint64_t first, size_t n,
                    const struct wh_draw_layers *layers, double column[])
{
    uint64_t counter = stream + first * step;
    double width = value->most - value->least;
    if (value->shape == WH_NORMAL) {
        draw_normal(value, counter, n, layers, column);
        return;
    }
    for (size_t t = 0; t < n; t++) column[t] = value->least + width * from_zero_to_one(mix(counter += step));
}
