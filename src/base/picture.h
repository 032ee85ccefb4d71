/* picture.h - what the bytes of a photo say of it: its form, its size, which way up it is held. Can be read alone.
 *
 * A file is taken for a picture by what it holds, never by its name. Only its head is read: no dot of it is decoded. */
#ifndef WH_BASE_PICTURE_H
#define WH_BASE_PICTURE_H

#include <stdbool.h>
#include <stddef.h>

enum wh_picture_is { WH_PICTURE_JPEG, WH_PICTURE_PNG };

struct wh_picture {
    enum wh_picture_is is;
    const char *bytes; /* as they came; not copied */
    size_t size;
    unsigned wide, high; /* dots, as stored */
    unsigned turn;       /* 1..8 as Exif counts them: how it has to be turned to stand upright; 1: as it is */
};

/* Reads the head of a JPEG (ISO/IEC 10918-1, with the orientation of Exif 2.3, tag 0x0112, where there is one) or of a
 * PNG (ISO/IEC 15948). False: it is neither, or is cut off before its size is told, or has no dots. */
bool wh_picture_read(const char *bytes, size_t size, struct wh_picture *ret);

#endif
