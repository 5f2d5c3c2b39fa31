/* checksum.h - a figure that tells whether a file has changed
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_CHECKSUM_H
#define SW_CHECKSUM_H

#include "spanwright.h"

/* The figure that cksum prints for a file of these COUNT bytes: the cyclic redundancy check of
 * POSIX.1-2017, "cksum" (the polynomial of ISO/IEC 8802-3; the count follows the bytes).  It shows
 * that a file was edited; it does not protect from an attack.  O(COUNT). */
uint32_t sw_checksum (const char *bytes, size_t count);

#endif
