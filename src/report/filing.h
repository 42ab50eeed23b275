/* SPDX-License-Identifier: GPL-3.0-or-later */
/* filing.h: a folder in the making. */
#ifndef REPORT_FILING_H
#define REPORT_FILING_H

#include "base/buffer.h"
#include "rigbudget/folder.h"

/* NULL when memory is out. */
rig_folder *rig_folder_new(void);

/* Adds a file whose name is made of the words and the ending (".csv"): their letters and digits,
 * and a number where another file has that name already. Empties the buffer. The name, or NULL when
 * memory is out. */
const char *rig_folder_add(
	rig_folder *folder, const char *words, const char *ending, rig_buffer *text);

#endif
