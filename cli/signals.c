/* signals.c - stops early with the best plan so far
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "signals.h"

#include <signal.h>
#include <stddef.h>

static const int noted[] = { SIGINT, SIGTERM };
#define NOTED_COUNT (sizeof noted / sizeof noted[0])

/* A signal handler can only reach global variables. */
static volatile sig_atomic_t caught;
static volatile sig_atomic_t anew;

static void
note (int signal_number)
{
  caught = signal_number;
  anew = 1;
}

void
sw_cli_catch_signals (void)
{
  anew = 0;
  for (size_t i = 0; i < NOTED_COUNT; i++)
    {
      struct sigaction before;
      /* What the caller ignores (nohup does so) stays ignored. */
      if (sigaction (noted[i], NULL, &before) != 0 || before.sa_handler == SIG_IGN)
        continue;
      struct sigaction action = { .sa_handler = note };
      sigemptyset (&action.sa_mask);
      action.sa_flags = (int) (SA_RESETHAND | SA_RESTART);
      sigaction (noted[i], &action, NULL);
    }
}

bool
sw_cli_signal_anew (void)
{
  return anew != 0;
}

static void
restore_default (int signal_number)
{
  struct sigaction action = { .sa_handler = SIG_DFL };
  sigemptyset (&action.sa_mask);
  sigaction (signal_number, &action, NULL);
}

void
sw_cli_release_signals (void)
{
  for (size_t i = 0; i < NOTED_COUNT; i++)
    {
      struct sigaction now;
      if (sigaction (noted[i], NULL, &now) == 0 && now.sa_handler == note)
        restore_default (noted[i]);
    }
}

bool
sw_cli_signal_caught (void)
{
  return caught != 0;
}

void
sw_cli_die_of_signal (void)
{
  int signal_number = caught;
  if (signal_number == 0)
    return;
  restore_default (signal_number);
  raise (signal_number);
}

void
sw_cli_survive_large_files (void)
{
  struct sigaction action = { .sa_handler = SIG_IGN };
  sigemptyset (&action.sa_mask);
  sigaction (SIGXFSZ, &action, NULL);
}

static void
mask_pipe_signal (int how)
{
  sigset_t set;
  sigemptyset (&set);
  sigaddset (&set, SIGPIPE);
  sigprocmask (how, &set, NULL); /* NOLINT(concurrency-mt-unsafe): the program has one thread */
}

void
sw_cli_hold_pipe_signal (void)
{
  mask_pipe_signal (SIG_BLOCK);
}

void
sw_cli_let_pipe_signal (void)
{
  mask_pipe_signal (SIG_UNBLOCK);
}
