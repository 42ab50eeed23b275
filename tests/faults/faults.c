/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Preloaded: makes the FAULT_AT-th call of one kind fail. FAULT_KIND is memory (malloc, calloc,
 * realloc give NULL), or open, read, write, fsync, rename, link, close, mkdir: these give
 * FAULT_CODE, an errno. read and write with FAULT_CODE=0 do one byte and say so; with FAULT_CODE=4
 * they are interrupted once. FAULT_LASTS: so do all later ones. Only descriptors of files and pipes
 * that the program opens itself, and standard input and output: what the loader does comes before.
 */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

void *__libc_malloc(size_t size);
void *__libc_calloc(size_t n, size_t size);
void *__libc_realloc(void *old, size_t size);

static const char *kind_failing = "";
static long at;
static long calls;
static int code;
static int lasts;
static int ready;

__attribute__((constructor)) static void begin(void)
{
	const char *kind = getenv("FAULT_KIND");
	const char *when = getenv("FAULT_AT");
	const char *what = getenv("FAULT_CODE");
	kind_failing = kind != NULL ? kind : "";
	at = when != NULL ? atol(when) : 0;
	code = what != NULL ? atoi(what) : EIO;
	lasts = getenv("FAULT_LASTS") != NULL;
	ready = 1;
}

static int fails(const char *kind)
{
	if (!ready || at <= 0 || strcmp(kind, kind_failing) != 0)
		return 0;
	calls++;
	return calls == at || (lasts && calls > at);
}

static int refuse(void)
{
	errno = code;
	return -1;
}

void *malloc(size_t size)
{
	return fails("memory") ? NULL : __libc_malloc(size);
}

void *calloc(size_t n, size_t size)
{
	return fails("memory") ? NULL : __libc_calloc(n, size);
}

void *realloc(void *old, size_t size)
{
	return fails("memory") ? NULL : __libc_realloc(old, size);
}

ssize_t read(int fd, void *bytes, size_t length)
{
	ssize_t (*next)(int, void *, size_t) = dlsym(RTLD_NEXT, "read");
	if (!fails("read"))
		return next(fd, bytes, length);
	return code == 0 ? next(fd, bytes, 1) : refuse();
}

ssize_t write(int fd, const void *bytes, size_t length)
{
	ssize_t (*next)(int, const void *, size_t) = dlsym(RTLD_NEXT, "write");
	if (fd == STDERR_FILENO || !fails("write"))
		return next(fd, bytes, length);
	return code == 0 ? next(fd, bytes, 1) : refuse();
}

int fsync(int fd)
{
	int (*next)(int) = dlsym(RTLD_NEXT, "fsync");
	return fails("fsync") ? refuse() : next(fd);
}

int close(int fd)
{
	int (*next)(int) = dlsym(RTLD_NEXT, "close");
	const int done = next(fd);
	return fails("close") ? refuse() : done;
}

int rename(const char *from, const char *to)
{
	int (*next)(const char *, const char *) = dlsym(RTLD_NEXT, "rename");
	return fails("rename") ? refuse() : next(from, to);
}

int linkat(int from_folder, const char *from, int to_folder, const char *to, int flags)
{
	int (*next)(int, const char *, int, const char *, int) = dlsym(RTLD_NEXT, "linkat");
	return fails("link") ? refuse() : next(from_folder, from, to_folder, to, flags);
}

int mkdir(const char *path, mode_t mode)
{
	int (*next)(const char *, mode_t) = dlsym(RTLD_NEXT, "mkdir");
	return fails("mkdir") ? refuse() : next(path, mode);
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
	return fails("open") ? refuse() : next(path, flags, mode);
}
