/* SPDX-License-Identifier: GPL-3.0-or-later */
/* unnamed.h: files without a name: one that is filled so is never seen half done, not even when the
 * process is killed. Not on every system nor on every file system. */
#ifndef BASE_UNNAMED_H
#define BASE_UNNAMED_H

/* A new file on the file system of the folder, to be written; -1 where there is no such thing. */
int rig_unnamed_open(const char *folder);

/* Gives it a name that is free. 0 or an errno, EEXIST among them. */
int rig_unnamed_name(int fd, const char *path);

#endif
