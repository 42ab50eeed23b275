/* SPDX-License-Identifier: GPL-3.0-or-later */
/* compose.h: the blocks of a document as strips of a printed sheet. */
#ifndef PDF_COMPOSE_H
#define PDF_COMPOSE_H

#include "flow.h"
#include "rigbudget/pdf.h"

typedef struct {
	const rig_document *document;
	const rig_pdf_options *options;
	rig_flow flow;
	bool summary; /* what is being composed stands in it */
	bool breaks;  /* the next strip begins a page */
	double body;  /* where the text stands, right of a margin for questions and names */
} rig_sheet;

/* An empty page of the paper. */
rig_sheet_page rig_paper_page(rig_paper paper);

/* Makes all strips. sheet->flow has its arena, context and page. */
void rig_compose(rig_sheet *sheet);

/* A strip with one text in the body column. */
rig_strip *rig_compose_text(rig_sheet *sheet, rig_style style, const char *text, double before);
/* How wide the body column is. */
double rig_compose_width(const rig_sheet *sheet);

void rig_compose_table(rig_sheet *sheet, const rig_table *table);
/* The drawing, and what it shows in words. */
void rig_compose_chart(rig_sheet *sheet, const rig_chart *chart);
/* The sheets of a one-line diagram, as wide as the page. */
void rig_compose_diagram(rig_sheet *sheet, const rig_diagram *diagram);
/* A part at the end with the figures of all charts; nothing where there are none. */
void rig_compose_chart_figures(rig_sheet *sheet);

#endif
