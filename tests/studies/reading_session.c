/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "reading_session.h"

#include <string.h>

#include "suites.h"

const char reading_two_heaters[] = COACH_OF(
	"{\"id\": \"a\", \"running_w\": 1200, \"behaviour\": \"resistive\", \"circuit\": "
	"\"galley\"}, {\"id\": \"b\", \"running_w\": 960, \"behaviour\": \"resistive\", "
	"\"circuit\": \"galley\"}, {\"id\": \"motor\", \"running_w\": 600, \"behaviour\": "
	"\"motor\", \"power_factor\": 0.8}, {\"id\": \"box\", \"running_w\": 600, \"behaviour\": "
	"\"electronic\", \"power_factor\": 1}") "}";

rig_file *session_parse(const char *text)
{
	rig_diags *diags = rig_diags_new();
	rig_file *file = NULL;
	const rig_status status = rig_file_parse(text, strlen(text), diags, &file);
	ck_assert_msg(status == RIG_OK, "%s: %s",
		rig_diags_count(diags) > 0 ? rig_diags_at(diags, 0)->what : "", text);
	rig_diags_free(diags);
	return file;
}

void session_start(session *s, const char *coach, const rig_place *place, const char *const words[])
{
	*s = (session){.file = session_parse(coach)};
	for (; words[s->n] != NULL; s->n++) {
		rig_diags *diags = rig_diags_new();
		ck_assert_msg(rig_reading_list_words(words[s->n], rig_file_completed(s->file),
				      diags, &s->lists[s->n]) == RIG_OK,
			"%s", words[s->n]);
		s->readings[s->n] = *rig_reading_list_at(s->lists[s->n], 0);
		rig_diags_free(diags);
	}
	const rig_readings_options options = {.place = place};
	ck_assert_int_eq(rig_readings_study(rig_file_completed(s->file), s->readings, s->n,
				 place == NULL ? NULL : &options, &s->findings),
		RIG_OK);
}

void session_end(session *s)
{
	rig_readings_free(s->findings);
	for (size_t i = 0; i < s->n; i++)
		rig_reading_list_free(s->lists[i]);
	rig_file_free(s->file);
}

const rig_readings_draw *session_draw(const session *s, const char *id)
{
	const rig_coach *coach = rig_file_completed(s->file);
	for (size_t i = 0; i < s->findings->n_draws; i++) {
		const rig_readings_draw *draw = &s->findings->draws[i];
		if (draw->load >= 0 && strcmp(coach->loads[draw->load].id, id) == 0)
			return draw;
	}
	ck_abort_msg("no draw of %s", id);
	return NULL;
}
