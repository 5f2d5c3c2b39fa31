/* checksum.c - a figure that tells whether a file has changed
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/checksum.h"

#define POLYNOMIAL UINT32_C (0x04C11DB7)

/* The entry of a byte value is what the register changes by when that byte leaves it. */
static void
make_steps (uint32_t steps[256])
{
  for (uint32_t byte = 0; byte < 256; byte++)
    {
      uint32_t rest = byte << 24;
      for (int bit = 0; bit < 8; bit++)
        rest = (rest & UINT32_C (0x80000000)) != 0 ? rest << 1 ^ POLYNOMIAL : rest << 1;
      steps[byte] = rest;
    }
}

uint32_t
sw_checksum (const char *bytes, size_t count)
{
  uint32_t steps[256];
  uint32_t sum = 0;
  make_steps (steps);
  for (size_t i = 0; i < count; i++)
    sum = sum << 8 ^ steps[sum >> 24 ^ (unsigned char)bytes[i]];
  for (size_t rest = count; rest != 0; rest >>= 8)
    sum = sum << 8 ^ steps[sum >> 24 ^ (uint32_t)(rest & 0xFF)];
  return ~sum;
}
