/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pdf_library.h: the library that draws PDFs, opened only when one is asked for: it brings some
 * twenty others with it, which would slow every command. */
#ifndef CLI_PDF_LIBRARY_H
#define CLI_PDF_LIBRARY_H

#include "rigbudget/pdf.h"

/* As rig_document_pdf, but says what went wrong and returns the exit status. */
int pdf_library_write(
	const rig_document *document, const rig_pdf_options *options, char **bytes, size_t *length);

#endif
