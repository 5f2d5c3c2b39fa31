/* version.c - the version, as configure.ac has it
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "spanwright.h"

const char *
sw_version (void)
{
  return PACKAGE_VERSION;
}
