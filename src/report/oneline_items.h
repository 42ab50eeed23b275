/* SPDX-License-Identifier: GPL-3.0-or-later */
/* oneline_items.h: the graph of a coach as the items of a diagram, in words. */
#ifndef REPORT_ONELINE_ITEMS_H
#define REPORT_ONELINE_ITEMS_H

#include "rigbudget/oneline.h"
#include "writer.h"

/* The diagram of the findings, in the writer's arena; without items when memory is out, which the
 * document remembers. Of the orders that the banks' sides may take, the one whose lines across
 * cross least. */
rig_diagram rig_oneline_items(rig_writer *writer, const rig_oneline_findings *findings);

/* Times that two lines across take turns from top to bottom, and so have to cross. */
size_t rig_oneline_ties_crossed(const rig_diagram *diagram);

/* The name of a node in the coach's own words. */
const char *rig_node_said(rig_writer *writer, const rig_oneline_findings *findings, size_t node);
/* What is to be said of it; "" for nothing. */
const char *rig_node_text_said(rig_writer *writer, const rig_oneline_node *node);
/* What a charger gives, the name of its circuit where that is another, and what hangs there too. */
const char *rig_charger_said(
	rig_writer *writer, const rig_oneline_node *node, const rig_diagram_item *item);
/* A length in the reader's units; "" where nobody says. */
const char *rig_length_said(rig_writer *writer, rig_figure length_m);
/* "breaks 20 kA". */
const char *rig_breaks_said(rig_writer *writer, double interrupt_a);
/* "12 AWG", "4/0 AWG"; "size not known". */
const char *rig_cable_said(rig_writer *writer, const rig_oneline_edge *edge);

#endif
