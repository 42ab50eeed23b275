/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/batch_feed.h"

#include <errno.h>
#include <poll.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/file.h"
#include "base/json.h"

/* How long a wait for input may keep a signal waiting. */
enum { STEP_BYTES = 64 * 1024, LOOK_MS = 100 };

struct batch_feed {
	char *const *files;
	size_t n_files, n_given;
	int fd, fault;
	bool ended;
	const volatile sig_atomic_t *ends;
	size_t at, length; /* of what was read and not yet given */
	char bytes[STEP_BYTES];
};

void batch_record_free(batch_record *record)
{
	rig_buffer_free(&record->text);
	rig_diags_free(record->diags);
	*record = (batch_record){0};
}

batch_feed *batch_feed_new(char *const *files, size_t n, int fd, const volatile sig_atomic_t *ends)
{
	batch_feed *feed = malloc(sizeof *feed);
	if (feed == NULL)
		return NULL;
	feed->files = files;
	feed->n_files = n;
	feed->fd = fd;
	feed->ends = ends;
	feed->n_given = feed->at = feed->length = 0;
	feed->fault = 0;
	feed->ended = false;
	return feed;
}

void batch_feed_free(batch_feed *feed)
{
	free(feed);
}

int batch_feed_fault(const batch_feed *feed)
{
	return feed->fault;
}

/* False when a signal asked for the end. */
static bool wait_for_input(const batch_feed *feed)
{
	struct pollfd input = {.fd = feed->fd, .events = POLLIN};
	while (!*feed->ends) {
		const int ready = poll(&input, 1, LOOK_MS);
		if (ready > 0 || (ready < 0 && errno != EINTR))
			return true;
	}
	return false;
}

/* Reads on; false at the end. */
static bool fill(batch_feed *feed)
{
	ssize_t got = -1;
	do {
		if (!wait_for_input(feed)) {
			feed->ended = true;
			return false;
		}
		got = read(feed->fd, feed->bytes, sizeof feed->bytes);
	} while (got < 0 && (errno == EINTR || errno == EAGAIN));
	feed->at = 0;
	feed->length = got > 0 ? (size_t)got : 0;
	feed->fault = got < 0 ? errno : 0;
	feed->ended = got <= 0;
	return got > 0;
}

static void add_to_line(batch_record *record, const char *bytes, size_t length)
{
	if (record->status != RIG_OK)
		return;
	if (length <= RIG_JSON_MAX_BYTES - record->text.length) {
		rig_buffer_add_bytes(&record->text, bytes, length);
		if (record->text.failed)
			record->status = RIG_NO_MEMORY;
		return;
	}
	record->status = rig_fail(record->diags, RIG_BAD_INPUT, (rig_where){0, 0, ""},
		"the line is longer than the %d bytes allowed", RIG_JSON_MAX_BYTES);
	rig_buffer_free(&record->text);
}

/* The rest of the line into the record; false if the input had ended before it. What a signal cut
 * off is no line. */
static bool read_line(batch_feed *feed, batch_record *record)
{
	bool any = false;
	while (!*feed->ends) {
		if (feed->at == feed->length && !fill(feed))
			return any && !*feed->ends && feed->fault == 0;
		const char *from = feed->bytes + feed->at;
		const size_t room = feed->length - feed->at;
		const char *end = memchr(from, '\n', room);
		const size_t length = end != NULL ? (size_t)(end - from) : room;
		add_to_line(record, from, length);
		feed->at += length + (end != NULL ? 1 : 0);
		any = true;
		if (end != NULL)
			return true;
	}
	return false;
}

static bool is_blank(const batch_record *record)
{
	for (size_t i = 0; i < record->text.length; i++)
		if (strchr(" \t\r", record->text.text[i]) == NULL || record->text.text[i] == '\0')
			return false;
	return record->status == RIG_OK;
}

/* The next of the files; false after the last. */
static bool next_file(batch_feed *feed, batch_record *record)
{
	if (feed->n_given == feed->n_files || *feed->ends)
		return false;
	record->file = feed->files[feed->n_given++];
	if (record->status == RIG_OK)
		record->status = rig_file_read(
			record->file, RIG_JSON_MAX_BYTES, &record->text, record->diags);
	return true;
}

/* The next line with something in it; false at the end. */
static bool next_line(batch_feed *feed, batch_record *record)
{
	while (!feed->ended && !*feed->ends) {
		record->text.length = 0;
		if (read_line(feed, record) && !is_blank(record))
			return true;
	}
	return false;
}

bool batch_feed_next(batch_feed *feed, batch_record *record)
{
	*record = (batch_record){.diags = rig_diags_new()};
	if (record->diags == NULL)
		record->status = RIG_NO_MEMORY;
	const bool found = feed->n_files > 0 ? next_file(feed, record) : next_line(feed, record);
	if (!found)
		batch_record_free(record);
	return found;
}
