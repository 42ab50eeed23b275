/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "claim_scene.h"

#include "read_coach.h"
#include "suites.h"

rig_place claim_place_named(const char *name)
{
	rig_place place;
	const long i = rig_place_find(name);
	ck_assert_msg(i >= 0, "no place %s", name);
	rig_place_at((size_t)i, &place);
	return place;
}

claim_answered claim_answer_with(
	const char *shore, const char *rest, const char *place, const rig_claim_options *options)
{
	claim_answered it = {.file = read_coach(shore, rest)};
	rig_place at;
	if (place != NULL)
		at = claim_place_named(place);
	ck_assert_int_eq(rig_claim_study(rig_file_completed(it.file), place != NULL ? &at : NULL,
				 options, &it.findings),
		RIG_OK);
	return it;
}

claim_answered claim_answer(const char *shore, const char *rest, const char *place)
{
	rig_claim_options options = rig_claim_defaults();
	options.all_places = false;
	options.n_trips = 500;
	return claim_answer_with(shore, rest, place, &options);
}

void claim_drop(claim_answered *it)
{
	rig_claim_free(it->findings);
	rig_file_free(it->file);
}
