/* name_fold.c - folds names, so that those that differ in letter case and spaces only become the same
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/name_index.h"
#include "base/text.h"

#include <string.h>

/* The small letter of CODE, if CODE is a Latin (up to 17F), Greek or Cyrillic capital: people type
 * these alphabets, and mistake one case for the other in them. */
static uint32_t
small_letter (uint32_t code)
{
  if ((code >= 'A' && code <= 'Z') || (code >= 0xC0 && code <= 0xDE && code != 0xD7) || (code >= 0x391 && code <= 0x3A9)
      || (code >= 0x410 && code <= 0x42F))
    return code + 0x20;
  if (code >= 0x400 && code <= 0x40F)
    return code + 0x50;
  /* The alphabets have pairs of which the capital is the even one, and pairs of which it is the odd one. */
  bool even = (code >= 0x100 && code <= 0x137) || (code >= 0x14A && code <= 0x177);
  bool odd = (code >= 0x139 && code <= 0x148) || (code >= 0x179 && code <= 0x17E);
  return (even && code % 2 == 0) || (odd && code % 2 == 1) ? code + 1 : code;
}

static bool
is_blank (uint32_t code)
{
  return code == ' ' || code == '\t' || code == 0xA0 || code == 0x202F;
}

char *
sw_name_fold (const char *name)
{
  sw_text text = { 0 };
  for (size_t left = strlen (name), bytes; left > 0; name += bytes, left -= bytes)
    {
      uint32_t code = 0;
      bytes = sw_text_decode (name, left, &code);
      uint32_t small = bytes > 0 ? small_letter (code) : 0;
      if (bytes > 0 && is_blank (code))
        continue;
      if (bytes == 0 || small == code)
        sw_text_add_bytes (&text, name, bytes > 0 ? bytes : 1);
      else if (small < 0x80)
        sw_text_add_bytes (&text, (const char[]){ (char)small }, 1);
      else
        sw_text_add_bytes (&text, (const char[]){ (char)(0xC0 | small >> 6), (char)(0x80 | (small & 0x3F)) }, 2);
      bytes = bytes > 0 ? bytes : 1;
    }
  return sw_text_take (&text);
}
