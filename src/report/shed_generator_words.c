/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The generator of a day of shedding in words. */
#include <string.h>

#include "shed_words.h"

static const double PERCENT = 100.0, W_PER_A = 120.0;

static const char *often_said(rig_writer *writer, const rig_shed_generator *generator)
{
	const char *times = rig_amount(writer->arena, generator->starts_day, 2, "");
	return strcmp(times, "1") == 0 ? "about once" : rig_said(writer, "about %s times", times);
}

void rig_shed_generator_said(
	rig_writer *writer, rig_buffer *words, const rig_shed_findings *findings)
{
	const rig_shed_generator *generator = &findings->generator;
	if (!generator->auto_start)
		return;
	if (generator->starts_day <= 0) {
		rig_buffer_add(words, " So much never runs for so long that the generator starts "
				      "by itself.");
		return;
	}
	rig_buffer_format(words, " The generator starts by itself %s a day and runs %s.",
		often_said(writer, generator),
		rig_amount(writer->arena, generator->run_h_day, 2, "h"));
}

static void add_left(rig_writer *writer, const rig_shed_findings *findings, double watts_w)
{
	if (findings->left_frac > 0.995)
		return;
	rig_add_fact(writer->document, "Left of the generator",
		rig_said(writer, "%s, %.0f %% of its label, at this height and heat",
			rig_amount(writer->arena, watts_w, 3, "W"), findings->left_frac * PERCENT),
		"by a usual rule; its maker's governs");
}

void rig_shed_generator_facts(rig_writer *writer, const rig_shed_findings *findings)
{
	const rig_shed_generator *generator = &findings->generator;
	if (findings->pedestal == NULL && !findings->inverter)
		add_left(writer, findings, findings->rating_a * W_PER_A * findings->n_hots);
	if (!generator->auto_start)
		return;
	add_left(writer, findings, generator->limit_a * W_PER_A);
	rig_add_fact(writer->document, "Generator, by itself",
		rig_said(writer,
			"starts when %s have run for %s, the charger aside; stops when less has "
			"run "
			"for so long, after %s at least",
			rig_amount(writer->arena, generator->start_load_w, 3, "W"),
			rig_shed_span_said(writer, generator->start_load_s),
			rig_shed_span_said(writer, generator->minimum_run_s)),
		"as the coach file says");
	rig_add_fact(writer->document, "It starts",
		rig_said(writer, "%s a day and runs %s; on %.0f of 100 days at all",
			often_said(writer, generator),
			rig_amount(writer->arena, generator->run_h_day, 2, "h"),
			generator->days_frac * PERCENT),
		"");
}
