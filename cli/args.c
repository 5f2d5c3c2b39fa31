/* args.c - reads the words of a command line as options and operands
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "args.h"

#include "message.h"

#include <string.h>

/* No option has a name so long that a longer word could be a misspelling of it. */
#define LONGEST_NAME 32
/* A word with more wrong letters is another word. */
#define MOST_WRONG 2

/* The number of letters to insert, drop or change to make A of B (Levenshtein's distance). */
static size_t
distance (const char *a, size_t a_length, const char *b)
{
  size_t b_length = strlen (b);
  if (a_length > LONGEST_NAME || b_length > LONGEST_NAME)
    return LONGEST_NAME;
  size_t row[LONGEST_NAME + 1];
  for (size_t j = 0; j <= b_length; j++)
    row[j] = j;
  for (size_t i = 0; i < a_length; i++)
    {
      size_t diagonal = row[0];
      row[0] = i + 1;
      for (size_t j = 0; j < b_length; j++)
        {
          size_t best = diagonal + (a[i] == b[j] ? 0 : 1);
          diagonal = row[j + 1];
          best = row[j] + 1 < best ? row[j] + 1 : best;
          row[j + 1] = diagonal + 1 < best ? diagonal + 1 : best;
        }
    }
  return row[b_length];
}

/* The option that NAME was probably meant to be.  NULL: there is none. */
static const sw_cli_option *
nearest (const sw_cli_args *args, const char *name, size_t length)
{
  const sw_cli_option *best = NULL;
  size_t least = MOST_WRONG + 1;
  for (size_t i = 0; i < args->option_count; i++)
    {
      const sw_cli_option *option = &args->options[i];
      if (option->hidden)
        continue;
      bool begins = length >= 2 && strncmp (option->name, name, length) == 0;
      size_t wrong = begins ? 1 : distance (name, length, option->name);
      if (wrong < least && wrong < length)
        {
          least = wrong;
          best = option;
        }
    }
  return best;
}

static sw_cli_word
unknown (const sw_cli_args *args, const char *word)
{
  bool is_long = word[1] == '-';
  size_t shown = is_long ? strcspn (word, "=") : 2;
  const sw_cli_option *meant = is_long ? nearest (args, word + 2, shown - 2) : NULL;
  if (meant != NULL)
    sw_cli_message (SW_FAULT, "unknown option '%.*s'; did you mean --%s?", (int) shown, word, meant->name);
  else
    sw_cli_message (SW_FAULT, "unknown option '%.*s'; see 'spanwright %s --help'", (int) shown, word, args->command);
  return SW_CLI_WRONG;
}

static const sw_cli_option *
find (const sw_cli_args *args, const char *word)
{
  for (size_t i = 0; i < args->option_count; i++)
    {
      const sw_cli_option *option = &args->options[i];
      if (word[1] != '-')
        {
          if (option->letter != 0 && word[1] == option->letter)
            return option;
          continue;
        }
      size_t length = strlen (option->name);
      if (strncmp (word + 2, option->name, length) == 0 && (word[2 + length] == '\0' || word[2 + length] == '='))
        return option;
    }
  return NULL;
}

/* The value of OPTION that WORD itself contains.  NULL: it has none. */
static const char *
attached_value (const sw_cli_option *option, const char *word)
{
  if (word[1] != '-')
    return word[2] != '\0' ? word + 2 : NULL;
  const char *after = word + 2 + strlen (option->name);
  return *after == '=' ? after + 1 : NULL;
}

static sw_cli_word
take_option (sw_cli_args *args, const char *word, const sw_cli_option **option, const char **value)
{
  const sw_cli_option *found = find (args, word);
  if (found == NULL)
    return unknown (args, word);
  int shown = word[1] == '-' ? (int) strlen (found->name) + 2 : 2;
  const char *given = attached_value (found, word);
  if (found->value == NULL && given != NULL)
    {
      sw_cli_message (SW_FAULT, "%.*s takes no value, but '%s' was given", shown, word, given);
      return SW_CLI_WRONG;
    }
  if (found->value != NULL && given == NULL)
    {
      if (args->next >= args->count)
        {
          sw_cli_message (SW_FAULT, "%.*s needs a value: %s", shown, word, found->value);
          return SW_CLI_WRONG;
        }
      given = args->words[args->next++];
    }
  uint64_t bit = (uint64_t) 1 << (found - args->options);
  if ((args->seen & bit) != 0 && !found->again)
    {
      sw_cli_message (SW_FAULT, "%.*s is given twice", shown, word);
      return SW_CLI_WRONG;
    }
  args->seen |= bit;
  *option = found;
  *value = given;
  return SW_CLI_OPTION;
}

sw_cli_word
sw_cli_next (sw_cli_args *args, const sw_cli_option **option, const char **value)
{
  if (args->next >= args->count)
    return SW_CLI_END;
  const char *word = args->words[args->next++];
  if (!args->operands_only && strcmp (word, "--") == 0)
    {
      args->operands_only = true;
      if (args->next >= args->count)
        return SW_CLI_END;
      word = args->words[args->next++];
    }
  if (!args->operands_only && word[0] == '-' && word[1] != '\0')
    return take_option (args, word, option, value);
  *value = word;
  return SW_CLI_OPERAND;
}
