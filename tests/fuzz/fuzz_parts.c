/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The reader of a shop's parts list: any bytes are read or refused
 * with a place. */
#include "fuzz.h"
#include "rigbudget/parts.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
	rig_diags *diags = rig_diags_new();
	rig_parts_file *file = NULL;
	MUST(diags != NULL);
	if (rig_parts_parse((const char *)bytes, size, diags, &file) == RIG_OK) {
		MUST(rig_parts_list(file) != NULL);
	} else {
		MUST(file == NULL);
		MUST(rig_diags_faults(diags) > 0);
	}
	rig_parts_free(file);
	rig_diags_free(diags);
	return 0;
}
