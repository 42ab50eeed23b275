/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The reader of rig files: any bytes are read or refused with a place, and what was read is written
 * as a text that reads back to itself. */
#include <string.h>

#include "fuzz.h"
#include "rigbudget/coach.h"

static void check_faults(rig_diags *diags, size_t size)
{
	MUST(rig_diags_count(diags) > 0);
	for (size_t i = 0; i < rig_diags_count(diags); i++) {
		const rig_diag *diag = rig_diags_at(diags, i);
		MUST(diag->where.line <= size + 1 && diag->where.column <= size + 1);
		MUST(diag->what != NULL && diag->what[0] != '\0');
	}
}

static void check_round_trip(const rig_file *file, rig_diags *diags)
{
	char *text = rig_file_text(file);
	MUST(text != NULL);
	rig_file *again = NULL;
	MUST(rig_file_parse(text, strlen(text), diags, &again) == RIG_OK);
	char *second = rig_file_text(again);
	MUST(second != NULL && strcmp(text, second) == 0);
	free(second);
	free(text);
	rig_file_free(again);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
	rig_diags *diags = rig_diags_new();
	rig_file *file = NULL;
	MUST(diags != NULL);
	const rig_status status = rig_file_parse((const char *)bytes, size, diags, &file);
	if (status == RIG_OK)
		check_round_trip(file, diags);
	else
		check_faults(diags, size);
	rig_file_free(file);
	rig_diags_free(diags);
	return 0;
}
