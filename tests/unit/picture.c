/* What the head of a photo says: form, size, which way up. Every cut is refused or read right, nothing beyond is read.
 */
#include "base/picture.h"
#include "check.h"

#include <stdlib.h>
#include <string.h>

/* A head of a JPEG: start, an Exif segment with its directory of one entry, a frame of 480 x 640. */
#define FRAME "\xff\xc0\x00\x0b\x08\x02\x80\x01\xe0\x01\x01\x11\x00"
#define EXIF_GREAT(turn)                                                                                               \
    "\xff\xe1\x00\x22"                                                                                                 \
    "Exif\0\0"                                                                                                         \
    "MM\0*\0\0\0\x08"                                                                                                  \
    "\0\x01"                                                                                                           \
    "\x01\x12\0\x03\0\0\0\x01\0" turn "\0\0"                                                                           \
    "\0\0\0\0"
#define EXIF_LITTLE(turn)                                                                                              \
    "\xff\xe1\x00\x22"                                                                                                 \
    "Exif\0\0"                                                                                                         \
    "II*\0\x08\0\0\0"                                                                                                  \
    "\x01\0"                                                                                                           \
    "\x12\x01\x03\0\x01\0\0\0" turn "\0\0\0"                                                                           \
    "\0\0\0\0"

struct head {
    const char *bytes;
    size_t size;
    bool read;
    enum wh_picture_is is;
    unsigned wide, high, turn;
};
#define HEAD(text, ...)                                                                                                \
    {                                                                                                                  \
        text, sizeof text - 1, __VA_ARGS__                                                                             \
    }

static const struct head heads[] = {
    HEAD("\xff\xd8" FRAME, true, WH_PICTURE_JPEG, 480, 640, 1),
    HEAD("\xff\xd8" EXIF_GREAT("\x06") FRAME, true, WH_PICTURE_JPEG, 480, 640, 6),
    HEAD("\xff\xd8" EXIF_LITTLE("\x08") FRAME, true, WH_PICTURE_JPEG, 480, 640, 8),
    HEAD("\xff\xd8" EXIF_LITTLE("\x09") FRAME, true, WH_PICTURE_JPEG, 480, 640, 1), /* there are eight ways */
    HEAD("\xff\xd8\xff" FRAME, true, WH_PICTURE_JPEG, 480, 640, 1),                 /* a filling byte */
    HEAD("\xff\xd8\xff\xda\x00\x08\x01\x01\x00\x00\x3f\x00", false),                /* dots before any size */
    HEAD("\xff\xd8\xff\xc0\x00\x0b\x08\x00\x00\x01\xe0\x01\x01\x11\x00", false),    /* no height */
    HEAD("\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\x02\x80\0\0\x01\xe0\x08\x02\0\0\0\0\0\0\0", true, WH_PICTURE_PNG, 640, 480,
         1),
    HEAD("\x89PNG\r\n\x1a\n\0\0\0\rIDAT\0\0\x02\x80\0\0\x01\xe0\x08\x02\0\0\0\0\0\0\0", false),
    HEAD("GIF89a\x01\0\x01\0\0\0\0\0\0\0\0\0\0\0", false),
};
enum { HEADS = sizeof heads / sizeof *heads };

static void test_heads(void **state)
{
    (void)state;
    for (size_t i = 0; i < HEADS; i++) {
        struct wh_picture picture;
        assert_int_equal(wh_picture_read(heads[i].bytes, heads[i].size, &picture), heads[i].read);
        if (!heads[i].read) continue;
        assert_int_equal(picture.is, heads[i].is);
        assert_int_equal(picture.wide, heads[i].wide);
        assert_int_equal(picture.high, heads[i].high);
        assert_int_equal(picture.turn, heads[i].turn);
    }
}

/* A copy that ends where the cut is: a sanitizer sees any byte read beyond. */
static void test_cuts(void **state)
{
    (void)state;
    for (size_t i = 0; i < HEADS; i++) {
        for (size_t size = 0; size < heads[i].size; size++) {
            char *cut = malloc(size ? size : 1);
            struct wh_picture picture;
            assert_non_null(cut);
            memcpy(cut, heads[i].bytes, size);
            if (wh_picture_read(cut, size, &picture)) {
                assert_int_equal(picture.wide, heads[i].wide);
                assert_int_equal(picture.high, heads[i].high);
            }
            free(cut);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_heads), cmocka_unit_test(test_cuts)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
