/* checksum.h - whether a file is still what it was
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_CHECKSUM_H
#define SW_CHECKSUM_H

#include "spanwright.h"

/* The figure that cksum prints of a file of these COUNT bytes: the cyclic
 * redundancy check of POSIX.1-2017, "cksum" (polynomial of ISO/IEC 8802-3,
 * the count after the bytes).  It tells an edit, not an attack.  O(COUNT). */
uint32_t sw_checksum (const char *bytes, size_t count);

#endif
