/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "answer/asking.h"

rig_status rig_answer_wiring(rig_asking *asking, rig_found *found)
{
	const rig_wiring_options how = {
		.copper = asking->options->copper, .next_size = asking->options->next_size};
	return rig_wiring_study(asking->coach, &how, &found->wiring);
}
