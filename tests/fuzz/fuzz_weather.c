/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The readers of hourly years: TMY3, EPW and our own columns. A year that was read is finite. */
#include <math.h>

#include "fuzz.h"
#include "rigbudget/weather.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
	rig_diags *diags = rig_diags_new();
	rig_hourly_year *year = NULL;
	MUST(diags != NULL);
	if (rig_hourly_year_read((const char *)bytes, size, diags, &year) == RIG_OK) {
		for (size_t h = 0; h < RIG_YEAR_HOURS; h++) {
			MUST(isfinite(year->ghi_wm2[h]) && year->ghi_wm2[h] >= 0);
			MUST(isfinite(year->temp_c[h]));
		}
		rig_hourly_year_free(year);
	} else {
		MUST(year == NULL);
		MUST(rig_diags_count(diags) > 0);
	}
	rig_diags_free(diags);
	return 0;
}
