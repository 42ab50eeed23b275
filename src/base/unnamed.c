/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "unnamed.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <unistd.h>

int rig_unnamed_open(const char *folder)
{
#ifdef O_TMPFILE
	return open(folder, O_TMPFILE | O_WRONLY | O_CLOEXEC, 0666);
#else
	(void)folder;
	return -1;
#endif
}

int rig_unnamed_name(int fd, const char *path)
{
	char own[32];
	snprintf(own, sizeof own, "/proc/self/fd/%d", fd);
	return linkat(AT_FDCWD, own, AT_FDCWD, path, AT_SYMLINK_FOLLOW) == 0 ? 0 : errno;
}
