/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/init.h"

#include <gsl/gsl_errno.h>

void rig_init(void)
{
	gsl_set_error_handler_off();
}
