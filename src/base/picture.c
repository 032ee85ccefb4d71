#include "base/picture.h"

#include <stdint.h>
#include <string.h>

/* Bytes with a bound: what lies beyond it reads as zero. */
struct span {
    const unsigned char *at;
    size_t size;
    bool little; /* the least byte of a number comes first */
};

static unsigned byte(const struct span *span, size_t place)
{
    return place < span->size ? span->at[place] : 0;
}

static unsigned two(const struct span *span, size_t place)
{
    unsigned first = byte(span, place), second = byte(span, place + 1);
    return span->little ? second << 8 | first : first << 8 | second;
}

static size_t four(const struct span *span, size_t place)
{
    size_t first = two(span, place), second = two(span, place + 2);
    return span->little ? second << 16 | first : first << 16 | second;
}

static struct span part_of(const struct span *span, size_t from, size_t size)
{
    if (from > span->size) from = span->size;
    if (size > span->size - from) size = span->size - from;
    return (struct span){span->at + from, size, span->little};
}

static bool begins(const struct span *span, const char *bytes, size_t n)
{
    return span->size >= n && memcmp(span->at, bytes, n) == 0;
}

/* The orientation in an Exif segment; 1 where it says none. */
static unsigned turn_of(const struct span *segment)
{
    enum { HEAD = 6, ENTRY = 12, ORIENTATION = 0x0112, SHORT = 3 };
    if (!begins(segment, "Exif\0\0", HEAD)) return 1;
    struct span exif = part_of(segment, HEAD, segment->size);
    exif.little = byte(&exif, 0) == 'I';
    size_t directory = four(&exif, 4), count = two(&exif, directory);
    for (size_t i = 0; i < count && directory + 2 + (i + 1) * ENTRY <= exif.size; i++) {
        size_t entry = directory + 2 + i * ENTRY;
        if (two(&exif, entry) != ORIENTATION || two(&exif, entry + 2) != SHORT) continue;
        unsigned turn = two(&exif, entry + 8);
        return turn >= 1 && turn <= 8 ? turn : 1;
    }
    return 1;
}

/* Does the marker begin a frame, which tells the size? C4, C8 and CC are tables and an extension. */
static bool is_frame(unsigned marker)
{
    return marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8 && marker != 0xcc;
}

static bool read_jpeg(const struct span *file, struct wh_picture *ret)
{
    enum { EXIF = 0xe1, SCAN = 0xda };
    size_t place = 2;
    while (place + 4 <= file->size && byte(file, place) == 0xff) {
        unsigned marker = byte(file, place + 1);
        size_t length = two(file, place + 2);
        struct span segment = part_of(file, place + 4, length < 2 ? 0 : length - 2);
        if (marker == 0xff) { /* a filling byte */
            place++;
            continue;
        }
        if (length < 2 || marker == SCAN) return false;
        if (marker == EXIF && ret->turn == 1) ret->turn = turn_of(&segment);
        if (is_frame(marker)) {
            ret->high = two(&segment, 1);
            ret->wide = two(&segment, 3);
            return segment.size >= 6;
        }
        place += 2 + length;
    }
    return false;
}

static bool read_png(const struct span *file, struct wh_picture *ret)
{
    struct span head = part_of(file, 8, 25);
    size_t wide = four(&head, 8), high = four(&head, 12);
    if (head.size < 25 || memcmp(head.at + 4, "IHDR", 4) != 0 || wide > INT32_MAX || high > INT32_MAX) return false;
    ret->wide = (unsigned)wide;
    ret->high = (unsigned)high;
    return true;
}

bool wh_picture_read(const char *bytes, size_t size, struct wh_picture *ret)
{
    struct span file = {(const unsigned char *)bytes, size, false};
    bool png = begins(&file, "\x89PNG\r\n\x1a\n", 8);
    *ret = (struct wh_picture){.is = png ? WH_PICTURE_PNG : WH_PICTURE_JPEG, .bytes = bytes, .size = size, .turn = 1};
    if (!png && !begins(&file, "\xff\xd8\xff", 3)) return false;
    return (png ? read_png(&file, ret) : read_jpeg(&file, ret)) && ret->wide > 0 && ret->high > 0;
}
