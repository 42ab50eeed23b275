/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/arena.h"
#include "chart.h"
#include "diagram.h"
#include "filing.h"
#include "svg.h"

static bool write_chart(rig_folder *folder, const rig_chart *chart)
{
	rig_arena *arena = rig_arena_new();
	if (arena == NULL)
		return false;
	rig_buffer out = {0};
	rig_svg svg = {.out = &out, .id = "chart", .kind = "", .alone = true};
	const rig_canvas canvas = rig_svg_canvas(&svg);
	const bool drawn =
		rig_chart_draw(&canvas, chart, RIG_LAYOUT_WIDE, arena) && !rig_arena_failed(arena);
	rig_arena_free(arena);
	if (drawn)
		return rig_folder_add(folder, chart->title, ".svg", &out) != NULL;
	rig_buffer_free(&out);
	return false;
}

/* A file for each sheet. */
static bool write_diagram(rig_folder *folder, const rig_diagram *diagram)
{
	rig_arena *arena = rig_arena_new();
	if (arena == NULL)
		return false;
	const rig_diagram_layout layout = rig_diagram_lay_out(diagram, RIG_LAYOUT_WIDE, arena);
	bool fine = !layout.failed;
	for (size_t i = 0; fine && i < layout.n_sheets; i++) {
		rig_buffer out = {0};
		rig_svg svg = {.out = &out, .id = "diagram", .kind = "", .alone = true};
		const rig_canvas canvas = rig_svg_canvas(&svg);
		rig_diagram_draw(&canvas, diagram, &layout, i);
		const char *name = layout.n_sheets == 1 ? diagram->title
							: rig_arena_format(arena, "%s, sheet %zu",
								  diagram->title, i + 1);
		fine = name != NULL && rig_folder_add(folder, name, ".svg", &out) != NULL;
		if (!fine)
			rig_buffer_free(&out);
	}
	fine = fine && !rig_arena_failed(arena);
	rig_arena_free(arena);
	return fine;
}

rig_status rig_document_svg(const rig_document *document, rig_folder **folder)
{
	if (rig_document_status(document) != RIG_OK)
		return rig_document_status(document);
	rig_folder *made = rig_folder_new();
	bool fine = made != NULL;
	for (size_t i = 0; i < rig_document_n_blocks(document) && fine; i++) {
		const rig_block *block = rig_document_block_at(document, i);
		if (block->kind == RIG_BLOCK_CHART)
			fine = write_chart(made, block->chart);
		else if (block->kind == RIG_BLOCK_DIAGRAM)
			fine = write_diagram(made, block->diagram);
	}
	if (!fine) {
		rig_folder_free(made);
		return RIG_NO_MEMORY;
	}
	*folder = made;
	return RIG_OK;
}
