/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two files: what differs, and what that does to the answers. */
#include "answer/asking.h"
#include "rigbudget/compare.h"

/* One of the two, with all that its sheet takes. */
typedef struct {
	rig_asking asking;
	rig_found found;
	rig_document *sheet;
} compared_side;

static rig_status study(compared_side *side)
{
	rig_status status = rig_asking_begin(&side->asking);
	if (status == RIG_OK)
		status = rig_answer_sheet(&side->asking, &side->found);
	if (status == RIG_OK)
		status = rig_asking_write(&side->asking, &side->found, &side->sheet);
	return status;
}

static rig_compared compared(const compared_side *side)
{
	return (rig_compared){
		side->found.shore, side->found.voltage, side->found.solar, side->found.trip};
}

static rig_status write_both(
	const compared_side *before, const compared_side *after, rig_document **document)
{
	rig_changes *changes = NULL;
	rig_effects *effects = NULL;
	const rig_answer_options *options = after->asking.options;
	const rig_compared was = compared(before), is = compared(after);
	rig_status status = rig_coach_changes(
		rig_file_coach(before->asking.file), rig_file_coach(after->asking.file), &changes);
	if (status == RIG_OK)
		status = rig_findings_effects(&was, &is, &effects);
	if (status == RIG_OK) {
		const rig_comparison both = {{before->asking.coach, before->sheet},
			{after->asking.coach, after->sheet}, changes, effects};
		const rig_report_options words = {.units = options->units,
			.date = options->date,
			.inspector = options->inspector};
		status = rig_write_comparison(&both, &words, document);
	}
	rig_effects_free(effects);
	rig_changes_free(changes);
	return status;
}

rig_status rig_answer_compare(const rig_file *before, const rig_file *after,
	const rig_answer_options *options, rig_diags *diags, rig_document **document)
{
	const rig_answer_options usual = rig_answer_defaults();
	const rig_asking asking = {.options = options != NULL ? options : &usual, .diags = diags};
	compared_side first = {.asking = asking}, second = {.asking = asking};
	first.asking.file = before;
	second.asking.file = after;
	const size_t n_before = diags != NULL ? rig_diags_faults(diags) : 0;
	rig_status status = study(&first);
	if (status == RIG_OK)
		status = study(&second);
	if (status == RIG_OK)
		status = write_both(&first, &second, document);
	rig_document_free(first.sheet);
	rig_document_free(second.sheet);
	rig_found_free(&first.found);
	rig_found_free(&second.found);
	return rig_asking_said(&asking, n_before, status);
}
