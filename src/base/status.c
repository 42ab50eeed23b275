/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/status.h"

#include <assert.h>

#define STATUS_TEXT(name, text) text,
static const char *const TEXT[] = {RIG_STATUS_LIST(STATUS_TEXT)};

const char *rig_status_text(rig_status status)
{
	assert(status < RIG_N_STATUS);
	return TEXT[status];
}
