/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Preloaded: ends the process, as a power cut would, at its KILL_AT-th call that changes a file:
 * half way through a write, before any other. With NO_UNNAMED set there are no files without a
 * name, as on some file systems. */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdarg.h>
#include <stdlib.h>
#include <unistd.h>

static long calls;

static int is_time(void)
{
	const char *at = getenv("KILL_AT");
	return at != NULL && ++calls == atol(at);
}

static void end_if_it_is_time(void)
{
	if (is_time())
		raise(SIGKILL);
}

ssize_t write(int fd, const void *bytes, size_t length)
{
	ssize_t (*next)(int, const void *, size_t) = dlsym(RTLD_NEXT, "write");
	if (!is_time())
		return next(fd, bytes, length);
	next(fd, bytes, length / 2);
	raise(SIGKILL);
	return -1;
}

int fsync(int fd)
{
	int (*next)(int) = dlsym(RTLD_NEXT, "fsync");
	end_if_it_is_time();
	return next(fd);
}

int rename(const char *from, const char *to)
{
	int (*next)(const char *, const char *) = dlsym(RTLD_NEXT, "rename");
	end_if_it_is_time();
	return next(from, to);
}

int linkat(int from_folder, const char *from, int to_folder, const char *to, int flags)
{
	int (*next)(int, const char *, int, const char *, int) = dlsym(RTLD_NEXT, "linkat");
	end_if_it_is_time();
	return next(from_folder, from, to_folder, to, flags);
}

int open(const char *path, int flags, ...)
{
	int (*next)(const char *, int, ...) = dlsym(RTLD_NEXT, "open");
	va_list rest;
	va_start(rest, flags);
	const int mode =
		(flags & O_CREAT) != 0 || (flags & O_TMPFILE) == O_TMPFILE ? va_arg(rest, int) : 0;
	va_end(rest);
	if ((flags & O_TMPFILE) == O_TMPFILE && getenv("NO_UNNAMED") != NULL) {
		errno = EOPNOTSUPP;
		return -1;
	}
	return next(path, flags, mode);
}
