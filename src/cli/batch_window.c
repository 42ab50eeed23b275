/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/batch_window.h"

#include <errno.h>
#include <stdlib.h>
#include <threads.h>
#include <unistd.h>

#include "base/crew.h"

/* Lines in hand for each thread: enough that a slow coach holds nobody up for long. */
enum { LINES_PER_THREAD = 8 };

typedef struct {
	rig_buffer line;
	rig_status status;
	bool ready;
} slot;

/* Records n_written .. n_taken - 1 are in hand; record i has slot i modulo n_slots. */
typedef struct {
	const batch_work *work;
	size_t n_slots, n_taken, n_written;
	slot *slots;
	bool ends;    /* no further record is taken */
	bool writing; /* somebody writes what is ready */
	batch_count count;
	mtx_t lock, feed_lock;
	cnd_t moved;
} line_window;

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

/* Takes the next record and its number; false when there is none, or no line is to be made of it
 * any more. */
static bool take(line_window *window, batch_record *record, size_t *number)
{
	mtx_lock(&window->feed_lock);
	mtx_lock(&window->lock);
	while (!window->ends && window->n_taken - window->n_written == window->n_slots)
		cnd_wait(&window->moved, &window->lock);
	bool goes_on = !window->ends;
	mtx_unlock(&window->lock);
	goes_on = goes_on && batch_feed_next(window->work->feed, record);
	mtx_lock(&window->lock);
	if (goes_on)
		*number = window->n_taken++;
	else
		window->ends = true;
	mtx_unlock(&window->lock);
	mtx_unlock(&window->feed_lock);
	return goes_on;
}

static void count_line(line_window *window, rig_status status, int fault)
{
	batch_count *count = &window->count;
	if (status == RIG_NO_MEMORY)
		count->no_memory = true;
	else if (fault != 0)
		count->write_fault = fault;
	else
		count->n_lines++;
	count->n_failed += status != RIG_OK;
	if (count->no_memory || count->write_fault != 0)
		window->ends = true;
}

/* Writes the lines that are next and ready, with the lock held but while writing. After a line that
 * could not be made or written none follows. */
static void write_ready(line_window *window)
{
	const batch_work *work = window->work;
	window->writing = true;
	for (;;) {
		slot *next = &window->slots[window->n_written % window->n_slots];
		if (window->n_written == window->n_taken || !next->ready)
			break;
		const bool stopped = window->count.no_memory || window->count.write_fault != 0;
		mtx_unlock(&window->lock);
		int fault = 0;
		if (!stopped && next->status != RIG_NO_MEMORY)
			fault = write_all(work->fd, next->line.text, next->line.length);
		mtx_lock(&window->lock);
		if (!stopped)
			count_line(window, next->status, fault);
		rig_buffer_free(&next->line);
		next->ready = false;
		window->n_written++;
		cnd_broadcast(&window->moved);
		if (work->progress != NULL)
			work->progress(work->context, &window->count);
	}
	window->writing = false;
}

static void work_off(void *context, size_t worker)
{
	line_window *window = context;
	batch_record record;
	size_t number = 0;
	/* without memory for it the skies are drawn for each coach */
	batch_wish wish = *window->work->wish;
	wish.options.skies = rig_solar_skies_new();
	(void)worker;
	while (take(window, &record, &number)) {
		slot *mine = &window->slots[number % window->n_slots];
		mine->status = batch_line(&wish, &record, &mine->line);
		batch_record_free(&record);
		mtx_lock(&window->lock);
		mine->ready = true;
		if (!window->writing)
			write_ready(window);
		mtx_unlock(&window->lock);
	}
	rig_solar_skies_free(wish.options.skies);
}

batch_count batch_run(const batch_work *work)
{
	line_window window = {.work = work, .n_slots = work->n_threads * LINES_PER_THREAD};
	window.slots = calloc(window.n_slots, sizeof *window.slots);
	if (window.slots == NULL)
		return (batch_count){.no_memory = true};
	if (mtx_init(&window.lock, mtx_plain) != thrd_success ||
		mtx_init(&window.feed_lock, mtx_plain) != thrd_success ||
		cnd_init(&window.moved) != thrd_success) {
		free(window.slots);
		return (batch_count){.no_lock = true};
	}
	crew_run(work->n_threads, work_off, &window);
	cnd_destroy(&window.moved);
	mtx_destroy(&window.feed_lock);
	mtx_destroy(&window.lock);
	free(window.slots);
	return window.count;
}
