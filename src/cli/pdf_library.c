/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/pdf_library.h"

#include <dlfcn.h>
#include <stdio.h>
#include <string.h>

#include "cli/session.h"

#ifdef RIG_PDF_LIBRARY

typedef rig_status pdf_writer(const rig_document *, const rig_pdf_options *, char **, size_t *);
typedef const char *pdf_version(void);

/* The library stays open: what lies below it cannot be unloaded. It is looked for where the program
 * was built or installed to, then where the system keeps libraries. */
static pdf_writer *find_writer(void)
{
	void *library = dlopen(RIG_PDF_LIBRARY, RTLD_NOW | RTLD_LOCAL);
	void *write = library == NULL ? NULL : dlsym(library, "rig_document_pdf");
	void *version = library == NULL ? NULL : dlsym(library, "rig_pdf_version");
	if (write == NULL || version == NULL) {
		fprintf(stderr,
			"rigbudget: the library that draws PDFs cannot be opened: %s\n"
			"    to mend: install rigbudget whole, with cairo and pango (Debian: "
			"libpangocairo-1.0-0);\n"
			"    --format html gives a page that a browser prints to PDF\n",
			dlerror());
		return NULL;
	}
	pdf_writer *writer;
	pdf_version *made_for;
	memcpy(&writer, &write, sizeof writer);
	memcpy(&made_for, &version, sizeof made_for);
	if (strcmp(made_for(), RIG_VERSION) == 0)
		return writer;
	fprintf(stderr,
		"rigbudget: this is version " RIG_VERSION ", the library that draws PDFs is %s\n"
		"    to mend: install both of one version\n",
		made_for());
	return NULL;
}

#else

typedef rig_status pdf_writer(const rig_document *, const rig_pdf_options *, char **, size_t *);

static pdf_writer *find_writer(void)
{
	fputs("rigbudget: this program was built without PDF\n"
	      "    to mend: build it with -DRIG_PDF=ON; --format html gives a page that a browser "
	      "prints to PDF\n",
		stderr);
	return NULL;
}

#endif

int pdf_library_write(
	const rig_document *document, const rig_pdf_options *options, char **bytes, size_t *length)
{
	pdf_writer *writer = find_writer();
	if (writer == NULL)
		return EXIT_FILES;
	const rig_status status = writer(document, options, bytes, length);
	if (status == RIG_NOT_FOUND) {
		fputs("rigbudget: no font is installed to draw a PDF with\n"
		      "    to mend: install one, such as the Debian package fonts-dejavu-core; "
		      "--format html needs none\n",
			stderr);
		return EXIT_FILES;
	}
	return exit_for(status);
}
