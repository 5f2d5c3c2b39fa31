/* book_back.c - checks a workbook before anyone sees it
 *
 * A workbook is a ZIP archive (APPNOTE.TXT 6.3, 4.3 to 4.5) of XML parts.
 * Where a temporary file had no room for all of a part, the part ends too
 * early or lacks a piece in the middle, although the archive is sound.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "book/book.h"

#include <string.h>
#include <zlib.h>

#define END_SIGNATURE 0x06054b50u
#define END_BYTES 22
#define ENTRY_SIGNATURE 0x02014b50u
#define ENTRY_BYTES 46
#define LOCAL_SIGNATURE 0x04034b50u
#define LOCAL_BYTES 30
#define METHOD_DEFLATED 8
#define TAG 64 /* bytes of a part's first tag, and of its end, that are kept */
#define SOME 16384

static const char a_cell[] = "<c r=";

/* One part while it is unpacked. */
typedef struct part
{
  char root[TAG]; /* the name of its first element, as far as it has been read */
  size_t root_bytes;
  bool in_root;
  bool has_root;
  char end[TAG]; /* the last bytes */
  size_t end_bytes;
  size_t matched; /* of a_cell */
  uint64_t cells;
  char before;
} part;

static uint32_t
little (const unsigned char *bytes, int count)
{
  uint32_t value = 0;
  for (int b = count - 1; b >= 0; b--)
    value = value << 8 | bytes[b];
  return value;
}

/* Look for the name of the element that holds all others: the first that is neither <?xml ... ?> nor <! ... >. */
static void
look_for_root (part *p, char c)
{
  if (!p->in_root)
    p->in_root = p->before == '<' && c != '?' && c != '!' && c != '/';
  if (p->in_root && (c == ' ' || c == '>' || c == '/'))
    p->has_root = true;
  else if (p->in_root && p->root_bytes + 1 < TAG)
    p->root[p->root_bytes++] = c;
  p->before = c;
}

static void
look_at (part *p, const unsigned char *bytes, size_t count)
{
  for (size_t i = 0; i < count; i++)
    {
      const char c = (char)bytes[i];
      if (!p->has_root)
        look_for_root (p, c);
      p->matched = c == a_cell[p->matched] ? p->matched + 1 : c == a_cell[0] ? 1 : 0;
      if (p->matched == sizeof a_cell - 1)
        {
          p->cells++;
          p->matched = 0;
        }
    }
  const size_t take = count < TAG ? count : TAG;
  const size_t keep = p->end_bytes + take > TAG ? TAG - take : p->end_bytes;
  memmove (p->end, p->end + p->end_bytes - keep, keep);
  memcpy (p->end + keep, bytes + count - take, take);
  p->end_bytes = keep + take;
}

/* Does the part end with </ROOT>, where ROOT is its first element? */
static bool
is_closed (const part *p)
{
  size_t end = p->end_bytes;
  while (end > 0 && (p->end[end - 1] == '\n' || p->end[end - 1] == '\r'))
    end--;
  const size_t tag = p->root_bytes + 3;
  return p->has_root && end >= tag && memcmp (p->end + end - tag, "</", 2) == 0
         && memcmp (p->end + end - tag + 2, p->root, p->root_bytes) == 0 && p->end[end - 1] == '>';
}

/* Unpack COUNT bytes and look at what comes out. */
static bool
unpack (const unsigned char *bytes, size_t count, uint32_t wanted, part *p)
{
  z_stream stream = { .next_in = (Bytef *)bytes, .avail_in = (uInt)count };
  unsigned char some[SOME];
  /* A negative number means bare deflated data, as in ZIP archives. */
  if (inflateInit2 (&stream, -MAX_WBITS) != Z_OK)
    return false;
  int result = Z_OK;
  uint64_t all = 0;
  while (result == Z_OK)
    {
      stream.next_out = some;
      stream.avail_out = sizeof some;
      result = inflate (&stream, Z_NO_FLUSH);
      const size_t came = sizeof some - stream.avail_out;
      if (came > 0)
        look_at (p, some, came);
      all += came;
    }
  inflateEnd (&stream);
  return result == Z_STREAM_END && all == wanted;
}

/* Look at the archive's directory entry at ENTRY; *NEXT: where the next one begins. */
static bool
look_at_entry (const unsigned char *bytes, size_t count, size_t entry, size_t *next, uint64_t *cells)
{
  if (entry + ENTRY_BYTES > count || little (bytes + entry, 4) != ENTRY_SIGNATURE)
    return false;
  const size_t packed = little (bytes + entry + 20, 4);
  const uint32_t size = little (bytes + entry + 24, 4);
  const size_t local = little (bytes + entry + 42, 4);
  *next = entry + ENTRY_BYTES + little (bytes + entry + 28, 2) + little (bytes + entry + 30, 2)
          + little (bytes + entry + 32, 2);
  if (little (bytes + entry + 10, 2) != METHOD_DEFLATED || local + LOCAL_BYTES > count
      || little (bytes + local, 4) != LOCAL_SIGNATURE)
    return false;
  const size_t data = local + LOCAL_BYTES + little (bytes + local + 26, 2) + little (bytes + local + 28, 2);
  part p = { .root_bytes = 0 };
  if (data > count || packed > count - data || !unpack (bytes + data, packed, size, &p))
    return false;
  *cells += p.cells;
  return is_closed (&p);
}

bool
sw_book_is_whole (const char *bytes, size_t count, uint64_t cells)
{
  const unsigned char *archive = (const unsigned char *)bytes;
  /* The end of the directory has no comment here, so it is the end of the file. */
  if (count < END_BYTES || little (archive + count - END_BYTES, 4) != END_SIGNATURE)
    return false;
  const unsigned char *end = archive + count - END_BYTES;
  const uint32_t entries = little (end + 10, 2);
  size_t entry = little (end + 16, 4);
  uint64_t found = 0;
  for (uint32_t i = 0; i < entries; i++)
    if (!look_at_entry (archive, count - END_BYTES, entry, &entry, &found))
      return false;
  return entries > 0 && found == cells;
}
