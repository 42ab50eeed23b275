/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The volts of a day of shedding in words. */
#include <math.h>

#include "shed_words.h"

/* Under this many seconds a day is not worth a word. */
static const double NOTICED_S = 1.0;

static const char *volts_said(rig_writer *writer, double volts_v)
{
	return rig_said(writer, "%.0f V", volts_v);
}

/* The leg on which it gets lowest. */
static const rig_shed_volts *worse_leg(const rig_shed_findings *findings)
{
	const rig_shed_volts *volts = findings->volts;
	return findings->n_hots == 2 && volts[1].lowest_v.likely < volts[0].lowest_v.likely
		       ? &volts[1]
		       : &volts[0];
}

/* The leg on which a compressor runs low for longest. */
static double compressor_low_s(const rig_shed_findings *findings)
{
	return fmax(
		findings->volts[0].compressor_low_s_day, findings->volts[1].compressor_low_s_day);
}

void rig_shed_volts_said(rig_writer *writer, rig_buffer *words, const rig_shed_findings *findings)
{
	if (!findings->has_volts)
		return;
	const rig_shed_volts *worse = worse_leg(findings);
	const double low_s = compressor_low_s(findings);
	rig_buffer_format(words, " The volts at the coach fall to %s at the lowest",
		volts_said(writer, worse->lowest_v.likely));
	if (low_s >= NOTICED_S)
		rig_buffer_format(words,
			", and a compressor runs below %s for about %s a day, which harms it",
			volts_said(writer, RIG_COMPRESSOR_FLOOR_V),
			rig_shed_span_said(writer, low_s));
	else if (worse->lowest_v.low < RIG_COMPRESSOR_FLOOR_V)
		rig_buffer_format(words,
			"; if the site's supply is poor, to %s, too low for a compressor",
			volts_said(writer, worse->lowest_v.low));
	rig_buffer_add(words, ".");
}

/* "lowest 110 V (101 to 119); 95 % of the time no less than 113 V; ..." */
static const char *course_said(rig_writer *writer, const rig_shed_volts *volts)
{
	const rig_c84_limits limits = rig_c84_utilization(RIG_C84_2011);
	rig_buffer words = {0};
	rig_buffer_format(&words, "lowest %s", volts_said(writer, volts->lowest_v.likely));
	if (volts->lowest_v.high > volts->lowest_v.low)
		rig_buffer_format(
			&words, " (%.0f to %.0f)", volts->lowest_v.low, volts->lowest_v.high);
	rig_buffer_format(
		&words, "; 95 %% of the time no less than %s", volts_said(writer, volts->p05_v));
	if (volts->below_a_s_day >= NOTICED_S)
		rig_buffer_format(&words, "; under %s for %s a day",
			volts_said(writer, limits.a_low_v),
			rig_shed_span_said(writer, volts->below_a_s_day));
	if (volts->below_b_s_day >= NOTICED_S)
		rig_buffer_format(&words, ", under %s for %s", volts_said(writer, limits.b_low_v),
			rig_shed_span_said(writer, volts->below_b_s_day));
	if (volts->compressor_low_s_day >= NOTICED_S)
		rig_buffer_format(&words, ", with a compressor running for %s",
			rig_shed_span_said(writer, volts->compressor_low_s_day));
	return rig_said_buffer(writer, &words);
}

void rig_shed_volts_facts(rig_writer *writer, const rig_shed_findings *findings)
{
	for (int i = 0; findings->has_volts && i < findings->n_hots; i++)
		rig_add_fact(writer->document,
			findings->n_hots == 1 ? "Volts at the coach"
					      : rig_said(writer, "Volts on %s",
							rig_shed_hot_said(writer, findings, i)),
			course_said(writer, &findings->volts[i]),
			findings->path.source_ohm.from == RIG_FROM_PROFILE ? "pedestal not measured"
									   : "");
}
