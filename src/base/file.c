/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/file.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "unnamed.h"

enum {
	STEP_BYTES = 64 * 1024,
	MAX_LINKS = 40,  /* symbolic links followed, as many as Linux does */
	MAX_TRIES = 100, /* names tried for the file written beside */
	MAX_NAME_BYTES =
		200, /* of the name repeated in the name beside; leaves room for the rest */
	MODE_BITS = 0777
};

static const rig_where WHOLE_FILE = {0, 0, ""};

/* The reason in words where the usual one is not plain enough. */
static const char *reason(int code, char *room, size_t size)
{
	switch (code) {
	case ENOENT:
		return "there is no such file or folder";
	case EACCES:
	case EPERM:
		return "permission is missing";
	case ENOSPC:
		return "the disk is full";
	case EROFS:
		return "the disk is read-only";
	case ENOTDIR:
		return "a part of the path is not a folder";
	case EISDIR:
		return "it is a folder";
	case ENAMETOOLONG:
		return "the name is too long";
	case EPIPE:
		return "nobody reads the output any more";
	default:
		return strerror_r(code, room, size) == 0 ? room : "unknown reason";
	}
}

static rig_status fail(rig_diags *diags, const char *what, int code)
{
	char room[128];
	return rig_fail(diags, RIG_IO, WHOLE_FILE, "%s: %s", what, reason(code, room, sizeof room));
}

static rig_status refuse(rig_diags *diags, const char *what, const char *mend)
{
	rig_diags_add(diags, &(rig_diag){.severity = RIG_FAULT, .what = what, .mend = mend});
	return RIG_IO;
}

static ssize_t read_some(int fd, char *into, size_t size)
{
	ssize_t got;
	do {
		got = read(fd, into, size);
	} while (got < 0 && errno == EINTR);
	return got;
}

static rig_status read_all(int fd, size_t limit, rig_buffer *into, rig_diags *diags)
{
	char *step = malloc(STEP_BYTES);
	if (step == NULL)
		return RIG_NO_MEMORY;
	rig_status status = RIG_OK;
	rig_buffer_add_bytes(into, "", 0);
	while (status == RIG_OK) {
		const ssize_t got = read_some(fd, step, STEP_BYTES);
		if (got == 0)
			break;
		if (got < 0)
			status = fail(diags, "the file cannot be read", errno);
		else if ((size_t)got > limit - into->length)
			status = rig_fail(diags, RIG_BAD_INPUT, WHOLE_FILE,
				"the file is longer than the %zu bytes allowed", limit);
		else
			rig_buffer_add_bytes(into, step, (size_t)got);
		if (into->failed)
			status = RIG_NO_MEMORY;
	}
	free(step);
	return status;
}

rig_status rig_file_read(const char *path, size_t limit, rig_buffer *into, rig_diags *diags)
{
	if (strcmp(path, "-") == 0)
		return read_all(STDIN_FILENO, limit, into, diags);
	const int fd = open(path, O_RDONLY | O_CLOEXEC);
	if (fd < 0)
		return fail(diags, "the file cannot be opened", errno);
	struct stat about;
	rig_status status;
	if (fstat(fd, &about) == 0 && S_ISDIR(about.st_mode))
		status = fail(diags, "the file cannot be read", EISDIR);
	else
		status = read_all(fd, limit, into, diags);
	close(fd);
	return status;
}

/* 0 or an errno. */
static int write_all(int fd, const char *bytes, size_t length)
{
	while (length > 0) {
		const ssize_t done = write(fd, bytes, length);
		if (done < 0 && errno == EINTR)
			continue;
		if (done <= 0)
			return done < 0 ? errno : EIO;
		bytes += done;
		length -= (size_t)done;
	}
	return 0;
}

static size_t folder_length(const char *path)
{
	const char *slash = strrchr(path, '/');
	return slash == NULL ? 0 : (size_t)(slash - path) + 1;
}

/* Puts the path that a symbolic link names into *path; leaves any other path alone. 0 or an errno.
 */
static int follow_link(rig_buffer *path, bool *was_link)
{
	char target[4096];
	const ssize_t length = readlink(path->text, target, sizeof target);
	*was_link = length >= 0;
	if (length < 0)
		return errno == EINVAL || errno == ENOENT ? 0 : errno;
	if ((size_t)length >= sizeof target)
		return ENAMETOOLONG;
	path->length = target[0] == '/' ? 0 : folder_length(path->text);
	rig_buffer_add_bytes(path, target, (size_t)length);
	return path->failed ? ENOMEM : 0;
}

static int follow_links(rig_buffer *path)
{
	bool was_link = true;
	for (int i = 0; was_link; i++) {
		if (i > MAX_LINKS)
			return ELOOP;
		const int code = follow_link(path, &was_link);
		if (code != 0)
			return code;
	}
	return 0;
}

/* What is to stand at a path. mode 0 leaves the mode to the mask. */
typedef struct {
	const char *path;
	mode_t mode;
	const char *bytes;
	size_t length;
} new_file;

/* The i-th name for the file written beside; false when memory is out. */
static bool name_beside(const char *path, int i, rig_buffer *beside)
{
	const size_t folder = folder_length(path);
	beside->length = 0;
	rig_buffer_add_bytes(beside, path, folder);
	rig_buffer_format(
		beside, ".%.*s.rig-%ld-%d", MAX_NAME_BYTES, path + folder, (long)getpid(), i);
	return !beside->failed;
}

static bool name_folder(const char *path, rig_buffer *folder)
{
	rig_buffer_add_bytes(folder, path, folder_length(path));
	if (folder->length == 0)
		rig_buffer_add(folder, ".");
	return !folder->failed;
}

/* 0 or an errno. */
static int fill(int fd, const new_file *file)
{
	int code = 0;
	if (file->mode != 0 && fchmod(fd, file->mode) != 0)
		code = errno;
	if (code == 0)
		code = write_all(fd, file->bytes, file->length);
	if (code == 0 && fsync(fd) != 0)
		code = errno;
	return code;
}

/* Closes it; code unless that is 0 and closing fails. */
static int shut(int fd, int code)
{
	return close(fd) != 0 && code == 0 ? errno : code;
}

/* Fills a file that has no name yet and then gives it the one beside: whoever is killed leaves a
 * whole file or none. *done is false where this system has no such files. 0 or an errno. */
static int save_unnamed(const new_file *file, rig_buffer *beside, bool *done)
{
	rig_buffer folder = {0};
	const int fd = name_folder(file->path, &folder) ? rig_unnamed_open(folder.text) : -1;
	rig_buffer_free(&folder);
	*done = fd >= 0;
	if (fd < 0)
		return 0;
	int code = fill(fd, file);
	if (code != 0)
		return shut(fd, code);
	code = EEXIST;
	for (int i = 0; i < MAX_TRIES && code == EEXIST; i++)
		code = name_beside(file->path, i, beside) ? rig_unnamed_name(fd, beside->text)
							  : ENOMEM;
	/* without /proc it gets no name */
	*done = code == 0 || code == ENOMEM || code == EEXIST;
	const bool named = code == 0;
	code = shut(fd, code);
	if (named && code != 0)
		unlink(beside->text);
	return code;
}

/* The same with a file that has its name from the start. */
static int save_named(const new_file *file, rig_buffer *beside)
{
	int fd = -1;
	int code = EEXIST;
	for (int i = 0; i < MAX_TRIES && fd < 0 && code == EEXIST; i++) {
		if (!name_beside(file->path, i, beside))
			return ENOMEM;
		fd = open(beside->text, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
		code = fd >= 0 ? 0 : errno;
	}
	if (fd < 0)
		return code;
	code = shut(fd, fill(fd, file));
	if (code != 0)
		unlink(beside->text);
	return code;
}

static int sync_folder(const char *path)
{
	rig_buffer folder = {0};
	int code = ENOMEM;
	if (name_folder(path, &folder)) {
		const int fd = open(folder.text, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
		code = fd >= 0 && fsync(fd) == 0 ? 0 : errno;
		if (fd >= 0)
			close(fd);
	}
	rig_buffer_free(&folder);
	return code;
}

/* What stands at the path now: *mode is that of a file that may be replaced, 0 if there is none. */
static rig_status look(const char *path, mode_t *mode, rig_diags *diags)
{
	struct stat about;
	*mode = 0;
	if (path[folder_length(path)] == '\0')
		return refuse(diags, "the output has no file name", "name a file in the folder");
	if (stat(path, &about) != 0)
		return errno == ENOENT ? RIG_OK
				       : fail(diags, "the output cannot be written", errno);
	if (S_ISDIR(about.st_mode))
		return refuse(diags, "the output is a folder", "name a file in the folder");
	if (!S_ISREG(about.st_mode))
		return refuse(diags, "the output is a device or a pipe, not a file",
			"write to `-`, the standard output, and redirect that");
	if (access(path, W_OK) != 0)
		return refuse(diags, "the output file is protected against writing",
			"write to another name, or make the file writable");
	*mode = about.st_mode & MODE_BITS;
	return RIG_OK;
}

static rig_status replace(const char *path, const char *bytes, size_t length, rig_diags *diags)
{
	mode_t mode;
	const rig_status status = look(path, &mode, diags);
	if (status != RIG_OK)
		return status;
	const new_file file = {path, mode, bytes, length};
	rig_buffer beside = {0};
	bool done = false;
	int code = save_unnamed(&file, &beside, &done);
	if (!done)
		code = save_named(&file, &beside);
	if (code == 0 && rename(beside.text, path) != 0) {
		code = errno;
		unlink(beside.text);
	}
	rig_buffer_free(&beside);
	if (code == ENOMEM)
		return RIG_NO_MEMORY;
	if (code != 0)
		return fail(diags, "the output cannot be written", code);
	if (sync_folder(path) != 0)
		return rig_fail(diags, RIG_NOT_SAVED_SURELY, WHOLE_FILE,
			"the file was saved, but the disk did not confirm it");
	return RIG_OK;
}

rig_status rig_file_write(const char *path, const char *bytes, size_t length, rig_diags *diags)
{
	if (strcmp(path, "-") == 0) {
		const int code = write_all(STDOUT_FILENO, bytes, length);
		return code == 0 ? RIG_OK : fail(diags, "the output cannot be written", code);
	}
	rig_buffer target = {0};
	rig_buffer_add(&target, path);
	const int code = target.failed ? ENOMEM : follow_links(&target);
	rig_status status;
	if (code == ENOMEM)
		status = RIG_NO_MEMORY;
	else if (code != 0)
		status = fail(diags, "the output cannot be written", code);
	else
		status = replace(target.text, bytes, length, diags);
	rig_buffer_free(&target);
	return status;
}

rig_status rig_file_make_folder(const char *path, rig_diags *diags)
{
	struct stat about;
	if (mkdir(path, 0777) == 0)
		return RIG_OK;
	const int code = errno;
	if (code != EEXIST)
		return fail(diags, "the folder cannot be made", code);
	if (stat(path, &about) == 0 && S_ISDIR(about.st_mode))
		return RIG_OK;
	return refuse(
		diags, "there is a file of that name, and it is no folder", "name another folder");
}
