/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/figure.h"

#include <assert.h>
#include <math.h>
#include <stddef.h>

const char *rig_origin_text(rig_origin from)
{
	static const char *const TEXT[RIG_N_ORIGINS] = {
		[RIG_FROM_NOTHING] = "not given",
		[RIG_FROM_STATED] = "stated",
		[RIG_FROM_MEASURED] = "measured",
		[RIG_FROM_NAMEPLATE] = "nameplate",
		[RIG_FROM_PROFILE] = "profile",
		[RIG_FROM_ESTIMATED] = "estimated",
		[RIG_FROM_COMPUTED] = "computed",
	};
	assert(from < RIG_N_ORIGINS);
	return TEXT[from];
}

bool rig_figure_given(rig_figure figure)
{
	return figure.from != RIG_FROM_NOTHING;
}

rig_figure rig_figure_of(double value, rig_origin from)
{
	return rig_figure_range(value, value, value, from);
}

rig_figure rig_figure_range(double low, double likely, double high, rig_origin from)
{
	assert(from != RIG_FROM_NOTHING && from < RIG_N_ORIGINS);
	assert(isfinite(low) && isfinite(high) && low <= likely && likely <= high);
	return (rig_figure){.low = low, .likely = likely, .high = high, .from = from};
}

static bool both_given(rig_figure a, rig_figure b)
{
	return rig_figure_given(a) && rig_figure_given(b);
}

static rig_figure computed(double low, double likely, double high)
{
	return (rig_figure){.low = low, .likely = likely, .high = high, .from = RIG_FROM_COMPUTED};
}

rig_figure rig_figure_add(rig_figure a, rig_figure b)
{
	if (!both_given(a, b))
		return (rig_figure){0};
	return computed(a.low + b.low, a.likely + b.likely, a.high + b.high);
}

rig_figure rig_figure_subtract(rig_figure a, rig_figure b)
{
	if (!both_given(a, b))
		return (rig_figure){0};
	return computed(a.low - b.high, a.likely - b.likely, a.high - b.low);
}

rig_figure rig_figure_multiply(rig_figure a, rig_figure b)
{
	if (!both_given(a, b))
		return (rig_figure){0};
	assert(a.low >= 0 && b.low >= 0);
	return computed(a.low * b.low, a.likely * b.likely, a.high * b.high);
}

rig_figure rig_figure_divide(rig_figure a, rig_figure b)
{
	if (!both_given(a, b))
		return (rig_figure){0};
	assert(a.low >= 0 && b.low > 0);
	return computed(a.low / b.high, a.likely / b.likely, a.high / b.low);
}

rig_figure rig_figure_scale(rig_figure a, double factor)
{
	if (!rig_figure_given(a))
		return (rig_figure){0};
	assert(factor >= 0 && isfinite(factor));
	return computed(a.low * factor, a.likely * factor, a.high * factor);
}
