/* SPDX-License-Identifier: GPL-3.0-or-later */
/* complete.h: a stated coach -> one in which all that profiles and the trade's defaults can say is
 * filled in. What the file says always wins. */
#ifndef RIG_COMPLETE_H
#define RIG_COMPLETE_H

#include "rig/reader.h"

/* The table's place for a site. index -1: none is named. */
typedef struct {
	long index;
	double distance_km; /* from the stated point, 0 when named */
	rig_place place;
} rig_standing;

/* Copies reader->coach, which is free of faults, into *completed and completes it. Remarks on what
 * was assumed and matters go to the diags. Lists live in the reader's arena. */
void rig_complete_coach(rig_reader *reader, rig_coach *completed, rig_standing *standing);

/* Parts of it, each in a file of its own. The i-th of its list; references are resolved. */
void rig_complete_load(rig_reader *reader, rig_coach *coach, size_t i);
void rig_complete_bank(rig_bank *bank);
void rig_complete_array(rig_reader *reader, rig_coach *coach, size_t i);
void rig_complete_shore(rig_coach *coach);
void rig_complete_sources(rig_reader *reader, rig_coach *coach);

extern const char RIG_COMMON_PRACTICE[]; /* "common practice, no source" */

/* Puts a figure where none is given; from is RIG_FROM_PROFILE. */
void rig_fill(rig_figure *figure, rig_figure with, const char *source);
void rig_fill_range(rig_figure *figure, double low, double likely, double high, const char *source);
/* Puts factor (low, likely, high) times a given figure where none is given. */
void rig_fill_times(rig_figure *figure, rig_figure of, const double factor[3], const char *source);
/* Puts in what the key table says for the object's keys that are absent. */
void rig_fill_from_table(rig_object object, void *into);

/* A remark on the i-th of a list, or on the object (i = 0). */
void rig_remark_on(rig_reader *reader, rig_object object, size_t i, const rig_saying *saying);

#endif
