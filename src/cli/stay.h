/* SPDX-License-Identifier: GPL-3.0-or-later */
/* stay.h: from the command line to the options of a trip. */
#ifndef CLI_STAY_H
#define CLI_STAY_H

#include "cli/session.h"
#include "rigbudget/trip.h"

/* What was asked: the month and days, or the whole year of a weather file. The place is the file's
 * or the option's; without one, the weather file's own, when it says where it is from. EXIT_USAGE
 * or EXIT_INPUT after a sentence on standard error. */
int stay_of(cli_session *session, const cli_options *options, rig_trip_options *stay);

#endif
