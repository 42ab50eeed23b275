/* SPDX-License-Identifier: GPL-3.0-or-later */
/* csv.h: rows of comma-separated values, cell by cell [RFC-4180]. */
#ifndef REPORT_CSV_H
#define REPORT_CSV_H

#include "base/buffer.h"

typedef struct {
	rig_buffer out;
	size_t n; /* cells of the row so far */
} rig_csv;        /* start with {0} */

/* A text that no spreadsheet takes for a formula; thousands lose their commas in a cell that is all
 * number. */
void rig_csv_text(rig_csv *csv, const char *text);
/* "head (unit)"; the head alone where the unit is "". */
void rig_csv_head(rig_csv *csv, const char *head, const char *unit);
/* Rounded to nine digits. */
void rig_csv_number(rig_csv *csv, double value);
void rig_csv_end_row(rig_csv *csv);

/* The length of the number that the text begins with, such as -1,200.5; 0 if there is none. */
size_t rig_csv_number_length(const char *text);

#endif
