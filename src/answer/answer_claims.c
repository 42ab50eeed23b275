/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "answer/asking.h"

rig_status rig_answer_claims(rig_asking *asking, rig_found *found)
{
	if (asking->coach->n_claims == 0)
		return rig_asking_refuse(asking, RIG_BAD_INPUT,
			&(rig_diag){.what = "the file has no claims to check",
				.mend = "add \"claims\": [{\"text\": \"Runs the refrigerator on "
					"solar\", \"source\": \"solar\", \"loads\": [\"...\"]}] to "
					"the file"});
	rig_claim_options options = rig_claim_defaults();
	options.habit = asking->habit;
	options.all_places = !asking->on_sheet;
	if (asking->options->seed >= 0)
		options.seed = (uint64_t)asking->options->seed;
	return rig_claim_study(
		asking->coach, asking->has_place ? &asking->place : NULL, &options, &found->claims);
}
