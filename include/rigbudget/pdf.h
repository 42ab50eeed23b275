/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pdf.h: a document as a PDF, drawn with cairo and pango. In a library of its own, rigbudget-pdf,
 * which the program opens only when it is asked for a PDF. */
#ifndef RIG_PDF_H
#define RIG_PDF_H

#include <stddef.h>

#include "rigbudget/document.h"

typedef enum { RIG_PAPER_LETTER, RIG_PAPER_A4 } rig_paper;

typedef struct {
	rig_paper paper;
	const char *author; /* the inspector; NULL leaves a ruled line for the name */
	const char *date;   /* a date such as 2026-03-01 also becomes the file's; NULL for none */
} rig_pdf_options;

/* The document on paper: text that can be selected and searched, fonts embedded, headings as the
 * outline, charts as lines, "Page n of m" at the foot, and ruled space for notes at the end. No
 * clock: the same document, options and installed fonts give the same bytes.
 *   bytes       out: to be freed with free(); untouched unless RIG_OK
 *   length      out: how many
 * RIG_NOT_FOUND: no font is installed. RIG_NO_MEMORY; GLib, below pango, ends the program itself
 * when memory is out. Other statuses are those of rig_document_status. */
rig_status rig_document_pdf(
	const rig_document *document, const rig_pdf_options *options, char **bytes, size_t *length);

/* The version of this library: documents are those of the same version. */
const char *rig_pdf_version(void);

#endif
