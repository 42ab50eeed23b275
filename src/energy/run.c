/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Many trips on several threads. Trips are cut into chunks; whoever is free takes the next, and
 * chunks are added to the tally in their order, so that no sum hangs on who did what. A chunk that
 * is done before those before it waits in its place; nobody waits with it. */
#include <assert.h>
#include <stdlib.h>

#include "base/crew.h"
#include "energy/kernel.h"
#include "energy/tally.h"

#if !defined(__STDC_NO_THREADS__)
#include <threads.h>
#define HAS_THREADS 1
#else
#define HAS_THREADS 0
#endif

enum { CHUNK = 2 * RIG_LANES };
/* Counts of charge of all workers together. */
static const size_t MOST_BYTES = (size_t)16 << 20;

/* Chunks in hand and waiting, at most. */
enum { PLACES_PER_WORKER = 3, MOST_PLACES = PLACES_PER_WORKER * RIG_MAX_THREADS };

typedef struct {
	const rig_plan *plan;
	const rig_many_trips *trips;
	rig_tally *tally;
	size_t n_chunks, n_taken, n_added;
	size_t n_places;
	rig_tally *place[MOST_PLACES]; /* of chunk k: k % n_places */
	bool done[MOST_PLACES];
#if HAS_THREADS
	mtx_t lock;
	cnd_t turn;
#endif
} long_run;

typedef struct {
	long_run *run;
	size_t number;
	rig_tally *charge; /* has its space, and the counts of charge of all its chunks */
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

static void await_place(long_run *run)
{
	while (run->n_taken < run->n_chunks && run->n_taken - run->n_added >= run->n_places)
		cnd_wait(&run->turn, &run->lock);
}

static void call_waiting(long_run *run)
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

static void await_place(long_run *run)
{
	(void)run;
}

static void call_waiting(long_run *run)
{
	(void)run;
}
#endif

static void run_chunk(const worker *it, size_t chunk, rig_tally *tally)
{
	const rig_many_trips *trips = it->run->trips;
	const size_t end =
		(chunk + 1) * CHUNK < trips->n_trips ? (chunk + 1) * CHUNK : trips->n_trips;
	rig_outcomes outcomes;
	tally_clear(tally);
	tally->charge_counts = it->charge->charge_counts;
	for (size_t first = chunk * CHUNK; first < end; first += RIG_LANES) {
		const size_t n = end - first < RIG_LANES ? end - first : RIG_LANES;
		const uint64_t trip = trips->first_trip + first;
		rig_draws draws = {.stride = RIG_LANES};
		trips->draw(trips->context, it->number, trip, n, &draws);
		const kernel_block block = {it->run->plan, &draws, n, it->charge->space, tally,
			trips->take ? &outcomes : NULL};
		kernel_run(&block, trips->plain_code ? KERNEL_PLAIN : kernel_widest());
		if (trips->take)
			trips->take(trips->context, it->number, trip, n, &outcomes);
	}
	tally->charge_counts = NULL;
}

/* Takes the next chunk and its place; false when there is none. */
static bool take_chunk(long_run *run, size_t *chunk)
{
	lock(run);
	await_place(run);
	const bool is_left = run->n_taken < run->n_chunks;
	if (is_left)
		*chunk = run->n_taken++;
	unlock(run);
	return is_left;
}

/* Adds a chunk and all that waited for it. */
static void add_chunk(const worker *it, size_t chunk)
{
	long_run *run = it->run;
	const size_t n = run->n_places;
	lock(run);
	run->done[chunk % n] = true;
	while (run->n_added < run->n_taken && run->done[run->n_added % n]) {
		run->done[run->n_added % n] = false;
		tally_add(run->place[run->n_added++ % n], run->tally);
		if (run->trips->progress &&
			!run->trips->progress(run->trips->context, run->tally->n_trips))
			run->n_chunks = run->n_taken;
	}
	call_waiting(run);
	unlock(run);
}

/* context: the workers. */
static void work(void *context, size_t number)
{
	const worker *it = (const worker *)context + number;
	size_t chunk = 0;
	while (take_chunk(it->run, &chunk)) {
		run_chunk(it, chunk, it->run->place[chunk % it->run->n_places]);
		add_chunk(it, chunk);
	}
}

static rig_status worker_new(long_run *run, size_t number, worker *it)
{
	it->run = run;
	it->number = number;
	rig_status status = rig_tally_new(run->plan, run->tally->n_hours, &it->charge);
	if (status == RIG_OK && run->tally->charge_counts && number > 0)
		status = rig_tally_count_charge(it->charge);
	/* the first worker counts where the counts are wanted */
	if (status == RIG_OK && number == 0)
		it->charge->charge_counts = run->tally->charge_counts;
	return status;
}

static void worker_free(worker *it)
{
	if (it->charge && it->number == 0)
		it->charge->charge_counts = NULL;
	rig_tally_free(it->charge);
}

static rig_status take_places(long_run *run, size_t n_workers)
{
	rig_status status = RIG_OK;
	const size_t n = n_workers > 1 ? PLACES_PER_WORKER * n_workers : 1;
	while (status == RIG_OK && run->n_places < n) {
		status =
			tally_new_plain(run->plan, run->tally->n_hours, &run->place[run->n_places]);
		run->n_places += status == RIG_OK;
	}
	return status;
}

static size_t n_workers(const rig_many_trips *trips, const rig_tally *tally, size_t n_chunks)
{
	size_t n = trips->n_threads < n_chunks ? trips->n_threads : n_chunks;
	n = n > 0 ? n : 1;
	while (n > 1 && tally->charge_counts && n * tally_charge_bytes(tally) > MOST_BYTES)
		n--;
	return HAS_THREADS ? n : 1;
}

rig_status rig_plan_run(const rig_plan *plan, const rig_many_trips *trips, rig_tally *tally)
{
	assert(trips->n_trips > 0 && trips->draw);
	assert(trips->n_threads >= 1 && trips->n_threads <= RIG_MAX_THREADS);
	worker workers[RIG_MAX_THREADS] = {{.run = NULL}};
	long_run run = {.plan = plan, .trips = trips, .tally = tally};
	run.n_chunks = (trips->n_trips + CHUNK - 1) / CHUNK;
	const size_t n = n_workers(trips, tally, run.n_chunks);
	if (!open_lock(&run))
		return RIG_NO_MEMORY;
	rig_status status = take_places(&run, n);
	for (size_t i = 0; status == RIG_OK && i < n; i++)
		status = worker_new(&run, i, &workers[i]);
	if (status != RIG_OK)
		goto out;
	crew_run(n, work, workers);
	for (size_t i = 1; tally->charge_counts && i < n; i++)
		tally_add_charge(workers[i].charge, tally);
out:
	for (size_t i = 0; i < n; i++)
		worker_free(&workers[i]);
	for (size_t i = 0; i < run.n_places; i++)
		rig_tally_free(run.place[i]);
	close_lock(&run);
	return status;
}
