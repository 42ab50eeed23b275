/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "answer/asking.h"

rig_status rig_answer_oneline(rig_asking *asking, rig_found *found)
{
	return rig_oneline_study(asking->coach, &found->oneline);
}
