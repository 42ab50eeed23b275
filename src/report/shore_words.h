/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shore_words.h: sets, supplies and loads of the shore findings in words, for all writers that go
 * by them. */
#ifndef REPORT_SHORE_WORDS_H
#define REPORT_SHORE_WORDS_H

#include "writer.h"

/* What our own sets are. */
const char *rig_shore_kind_said(rig_shore_set_kind kind);
/* The file's name of a set, or what our own sets are. */
const char *rig_shore_set_said(rig_writer *writer, const rig_shore_set *set);
/* The set of every AC load, which is always there. */
const rig_shore_set *rig_shore_everything(const rig_shore_findings *findings);
/* The set that answers are about: the first of the file, else all compressors with the largest
 * heat, else everything. */
const rig_shore_set *rig_shore_focus_set(const rig_shore_findings *findings);
/* The supply that the cord was made for; the largest if there is none such. Up to the end below
 * come those that a buyer asks about: it and the next smaller one. */
size_t rig_shore_own_supply(const rig_shore_findings *findings);
enum { RIG_SHORE_MOST_ASKED = 2 };
size_t rig_shore_asked_end(const rig_shore_findings *findings);
/* "Toaster and Lights (4)". */
const char *rig_shore_items_said(rig_writer *writer, size_t n, const rig_shore_item *items);
/* "turn off Toaster and Microwave oven, and let the battery charger rest": what a person does. */
const char *rig_shore_off_said(rig_writer *writer, const rig_shore_choice *choice);

/* What must go off so that writer->run can run: an answer, and a table for every supply. */
void rig_shore_run_answer(rig_writer *writer, const rig_shore_findings *findings);
void rig_shore_run_table(rig_writer *writer, const rig_shore_findings *findings);

#endif
