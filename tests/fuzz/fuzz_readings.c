/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Readings as a table and as words, of a coach with two loads: read or refused with a place, and
 * the study of what was read ends well. */
#include <string.h>

#include "fuzz.h"
#include "rigbudget/coach.h"
#include "rigbudget/readings.h"

static const char COACH[] =
	"{\"format\": \"rigbudget/1\", \"name\": \"Two loads\", \"shore\": {\"cord_a\": 30},"
	" \"circuits\": [{\"id\": \"main\", \"breaker_a\": 20}],"
	" \"loads\": [{\"id\": \"heater\", \"running_w\": 1400, \"supply\": \"ac\", \"circuit\": "
	"\"main\"},"
	"  {\"id\": \"fan\", \"running_w\": {\"low\": 60, \"likely\": 90, \"high\": 140, \"from\": "
	"\"estimated\"},"
	"   \"supply\": \"ac\", \"circuit\": \"main\"}],"
	" \"banks\": [{\"id\": \"house\", \"role\": \"house\", \"chemistry\": \"agm\","
	"  \"capacity_ah\": 100}]}";

static void study(const rig_coach *coach, const rig_reading_list *list)
{
	const size_t n = rig_reading_list_count(list);
	if (n == 0 || n > 30)
		return;
	const rig_readings_options options = {0};
	rig_readings_findings *findings = NULL;
	const rig_status status =
		rig_readings_study(coach, rig_reading_list_at(list, 0), n, &options, &findings);
	MUST(status == RIG_OK || status == RIG_BAD_INPUT || status == RIG_NO_SOLUTION);
	rig_readings_free(findings);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
	rig_file *file = NULL;
	rig_diags *diags = rig_diags_new();
	rig_diags *of_words = rig_diags_new();
	rig_reading_list *list = NULL;
	MUST(diags != NULL && of_words != NULL);
	MUST(rig_file_parse(COACH, sizeof COACH - 1, diags, &file) == RIG_OK);
	const rig_coach *coach = rig_file_completed(file);
	if (rig_reading_list_read((const char *)bytes, size, coach, diags, &list) == RIG_OK)
		study(coach, list);
	else
		MUST(rig_diags_faults(diags) > 0);
	rig_reading_list_free(list);
	char *words = strndup((const char *)bytes, size);
	MUST(words != NULL);
	list = NULL;
	if (rig_reading_list_words(words, coach, of_words, &list) == RIG_OK)
		study(coach, list);
	else
		MUST(rig_diags_faults(of_words) > 0);
	rig_reading_list_free(list);
	free(words);
	rig_diags_free(diags);
	rig_diags_free(of_words);
	rig_file_free(file);
	return 0;
}
