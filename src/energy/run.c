/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Many trips on several threads. Trips are cut into chunks; whoever is free takes the next, and
 * chunks are added to the tally in their order, so that no sum hangs on who did what. */
#include <assert.h>
#include <stdlib.h>

#include "energy/kernel.h"
#include "energy/tally.h"

#if !defined(__STDC_NO_THREADS__)
#include <threads.h>
#define HAS_THREADS 1
#else
#define HAS_THREADS 0
#endif

enum { CHUNK = 4 * RIG_LANES };
/* Counts of charge of all workers together. */
static const size_t MOST_BYTES = (size_t)32 << 20;

typedef struct {
	const rig_plan *plan;
	const rig_many_trips *trips;
	rig_tally *tally;
	size_t n_chunks, n_taken, n_added;
#if HAS_THREADS
	mtx_t lock;
	cnd_t turn;
#endif
} long_run;

typedef struct {
	long_run *run;
	size_t number;
	rig_tally *tally; /* of the chunk in hand; its counts of charge are of all its chunks */
#if HAS_THREADS
	thrd_t thread;
#endif
} worker;

#if HAS_THREADS
static bool open_lock(long_run *run)
{
	if (mtx_init(&run->lock, mtx_plain) != thrd_success)
		return false;
	if (cnd_init(&run->turn) == thrd_success)
		return true;
	mtx_destroy(&run->lock);
	return false;
}

static void close_lock(long_run *run)
{
	cnd_destroy(&run->turn);
	mtx_destroy(&run->lock);
}

static void lock(long_run *run)
{
	mtx_lock(&run->lock);
}

static void unlock(long_run *run)
{
	mtx_unlock(&run->lock);
}

static void await_turn(long_run *run, size_t chunk)
{
	while (run->n_added != chunk)
		cnd_wait(&run->turn, &run->lock);
}

static void call_next(long_run *run)
{
	cnd_broadcast(&run->turn);
}
#else
static bool open_lock(long_run *run)
{
	(void)run;
	return true;
}

static void close_lock(long_run *run)
{
	(void)run;
}

static void lock(long_run *run)
{
	(void)run;
}

static void unlock(long_run *run)
{
	(void)run;
}

static void await_turn(long_run *run, size_t chunk)
{
	assert(run->n_added == chunk);
	(void)run;
	(void)chunk;
}

static void call_next(long_run *run)
{
	(void)run;
}
#endif

static void run_chunk(const worker *it, size_t chunk)
{
	const rig_many_trips *trips = it->run->trips;
	const size_t end =
		(chunk + 1) * CHUNK < trips->n_trips ? (chunk + 1) * CHUNK : trips->n_trips;
	rig_outcomes outcomes;
	tally_clear(it->tally);
	for (size_t first = chunk * CHUNK; first < end; first += RIG_LANES) {
		const size_t n = end - first < RIG_LANES ? end - first : RIG_LANES;
		const uint64_t trip = trips->first_trip + first;
		rig_draws draws = {.stride = RIG_LANES};
		trips->draw(trips->context, it->number, trip, n, &draws);
		const kernel_block block = {it->run->plan, &draws, n, it->tally->space, it->tally,
			trips->take ? &outcomes : NULL};
		kernel_run(&block, trips->plain_code);
		if (trips->take)
			trips->take(trips->context, it->number, trip, n, &outcomes);
	}
}

/* Takes the next chunk; false when there is none. */
static bool take_chunk(long_run *run, size_t *chunk)
{
	lock(run);
	const bool is_left = run->n_taken < run->n_chunks;
	if (is_left)
		*chunk = run->n_taken++;
	unlock(run);
	return is_left;
}

static void add_chunk(const worker *it, size_t chunk)
{
	long_run *run = it->run;
	lock(run);
	await_turn(run, chunk);
	tally_add(it->tally, run->tally);
	run->n_added++;
	if (run->trips->progress && !run->trips->progress(run->trips->context, run->tally->n_trips))
		run->n_chunks = run->n_taken;
	call_next(run);
	unlock(run);
}

static int work(void *given)
{
	const worker *it = given;
	size_t chunk = 0;
	while (take_chunk(it->run, &chunk)) {
		run_chunk(it, chunk);
		add_chunk(it, chunk);
	}
	return 0;
}

static rig_status worker_new(long_run *run, size_t number, worker *it)
{
	it->run = run;
	it->number = number;
	rig_status status = rig_tally_new(run->plan, run->tally->n_hours, &it->tally);
	if (status == RIG_OK && run->tally->charge_counts)
		status = rig_tally_count_charge(it->tally);
	return status;
}

static size_t n_workers(const rig_many_trips *trips, const rig_tally *tally, size_t n_chunks)
{
	size_t n = trips->n_threads < n_chunks ? trips->n_threads : n_chunks;
	while (n > 1 && tally->charge_counts && n * tally_charge_bytes(tally) > MOST_BYTES)
		n--;
	return HAS_THREADS ? n : 1;
}

/* The first worker is the caller's own thread; where a thread is not to be had, fewer work. */
static void run_all(worker workers[], size_t n)
{
	size_t n_begun = 1;
#if HAS_THREADS
	while (n_begun < n &&
		thrd_create(&workers[n_begun].thread, work, &workers[n_begun]) == thrd_success)
		n_begun++;
#endif
	work(&workers[0]);
#if HAS_THREADS
	for (size_t i = 1; i < n_begun; i++)
		thrd_join(workers[i].thread, NULL);
#endif
	(void)n;
	(void)n_begun;
}

rig_status rig_plan_run(const rig_plan *plan, const rig_many_trips *trips, rig_tally *tally)
{
	assert(trips->n_trips > 0 && trips->draw);
	assert(trips->n_threads >= 1 && trips->n_threads <= RIG_MAX_THREADS);
	worker workers[RIG_MAX_THREADS] = {{.run = NULL}};
	long_run run = {.plan = plan, .trips = trips, .tally = tally};
	run.n_chunks = (trips->n_trips + CHUNK - 1) / CHUNK;
	const size_t n = n_workers(trips, tally, run.n_chunks);
	rig_status status = RIG_NO_MEMORY;
	if (!open_lock(&run))
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < n; i++)
		if ((status = worker_new(&run, i, &workers[i])))
			goto out;
	run_all(workers, n);
	for (size_t i = 0; tally->charge_counts && i < n; i++)
		tally_add_charge(workers[i].tally, tally);
out:
	for (size_t i = 0; i < n; i++)
		rig_tally_free(workers[i].tally);
	close_lock(&run);
	return status;
}
