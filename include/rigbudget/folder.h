/* SPDX-License-Identifier: GPL-3.0-or-later */
/* folder.h: the tables and the charts of a document, each as a file of its own. */
#ifndef RIG_FOLDER_H
#define RIG_FOLDER_H

#include <stddef.h>

#include "rigbudget/document.h"

/* name: lower-case letters a to z, digits, hyphens, and the ending. */
typedef struct {
	const char *name;
	const char *text;
	size_t length;
} rig_folder_file;

typedef struct rig_folder rig_folder; /* files by name, in memory */

void rig_folder_free(rig_folder *folder);            /* NULL is fine */
size_t rig_folder_n_files(const rig_folder *folder); /* how many it holds */
const rig_folder_file *rig_folder_file_at(const rig_folder *folder, size_t i); /* belongs to it */

/* *folder is to be freed with rig_folder_free and untouched unless RIG_OK; other statuses are those
 * of rig_document_status, and RIG_NO_MEMORY. The same document gives the same bytes.
 *
 * CSV: a file for each table, each list of facts and each chart, with every point that the chart
 * plots, to nine digits; `index.csv`, the last, says which file is what. Comma-separated as in
 * [RFC-4180]: UTF-8, lines end in CR LF, the first one has the heads with their units. A figure
 * with its range is three columns. A cell that a spreadsheet would take for a formula (one that
 * begins with = + - @ and is no number) gets an apostrophe in front; characters that steer the
 * direction of writing are spelt out.
 * SVG: a picture for each chart, which needs no style sheet. */
rig_status rig_document_csv(const rig_document *document, rig_folder **folder);
rig_status rig_document_svg(const rig_document *document, rig_folder **folder);

#endif
