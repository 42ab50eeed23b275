/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A program of somebody else that uses the installed library. */
#include <rigbudget/rigbudget.h>
#include <stdio.h>
#include <string.h>

int main(void)
{
	static const char RIG[] =
		"{\"format\": \"rigbudget/1\", \"name\": \"consumer\", \"shore\": {\"cord_a\": 30},"
		" \"loads\": [{\"id\": \"air\", \"profile\": \"roof_ac_13k5\"}]}";
	rig_init();
	rig_diags *diags = rig_diags_new();
	rig_file *file = NULL;
	rig_shore_findings *findings = NULL;
	if (rig_file_parse(RIG, strlen(RIG), diags, &file) != RIG_OK ||
		rig_shore_study(rig_file_completed(file), NULL, &findings) != RIG_OK)
		return 1;
	printf("%zu supplies looked at\n", findings->n_supplies);
	rig_shore_free(findings);
	rig_file_free(file);
	rig_diags_free(diags);
	return 0;
}
