/* SPDX-License-Identifier: GPL-3.0-or-later */
/* file.h: the one door to files. "-" is standard input or output. */
#ifndef BASE_FILE_H
#define BASE_FILE_H

#include <stddef.h>

#include "base/buffer.h"
#include "rigbudget/diag.h"

/* Reads a whole file of at most limit bytes into an empty buffer.
 * RIG_IO: cannot be read. RIG_BAD_INPUT: longer than limit (stops reading there). A sentence for
 * either goes to diags. */
rig_status rig_file_read(const char *path, size_t limit, rig_buffer *into, rig_diags *diags);

/* Writes beside, syncs, renames: the old file stays whole until the new one is complete. Follows a
 * symbolic link to the file it names, keeps the mode of a file that exists, never renames over
 * something that is not a regular file. "-" writes to standard output.
 * RIG_IO: nothing was replaced. RIG_NOT_SAVED_SURELY: replaced, but the folder could not be synced.
 */
rig_status rig_file_write(const char *path, const char *bytes, size_t length, rig_diags *diags);

/* Makes a folder; one that is there already is fine. RIG_IO: neither; a sentence goes to diags. */
rig_status rig_file_make_folder(const char *path, rig_diags *diags);

#endif
