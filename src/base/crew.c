/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/crew.h"

#if !defined(__STDC_NO_THREADS__)
#include <threads.h>
#define HAS_THREADS 1
#else
#define HAS_THREADS 0
#endif

enum { MOST_WORKERS = 64 };

#if HAS_THREADS
typedef struct {
	void (*work)(void *context, size_t worker);
	void *context;
	size_t number;
	thrd_t thread;
} member;

static int begin(void *given)
{
	const member *it = given;
	it->work(it->context, it->number);
	return 0;
}

void crew_run(size_t n_workers, void (*work)(void *context, size_t worker), void *context)
{
	member members[MOST_WORKERS];
	size_t n_begun = 1;
	while (n_begun < n_workers && n_begun < MOST_WORKERS) {
		members[n_begun] = (member){.work = work, .context = context, .number = n_begun};
		if (thrd_create(&members[n_begun].thread, begin, &members[n_begun]) != thrd_success)
			break;
		n_begun++;
	}
	work(context, 0);
	for (size_t i = 1; i < n_begun; i++)
		thrd_join(members[i].thread, NULL);
}
#else
void crew_run(size_t n_workers, void (*work)(void *context, size_t worker), void *context)
{
	(void)n_workers;
	work(context, 0);
}
#endif

/* ---- jobs ---- */

typedef struct {
	const crew_jobs *jobs;
	size_t n_taken, n_done;
	bool ends;
#if HAS_THREADS
	mtx_t lock;
#endif
} job_list;

#if HAS_THREADS
static bool open_lock(job_list *list)
{
	return mtx_init(&list->lock, mtx_plain) == thrd_success;
}

static void close_lock(job_list *list)
{
	mtx_destroy(&list->lock);
}

static void lock(job_list *list)
{
	mtx_lock(&list->lock);
}

static void unlock(job_list *list)
{
	mtx_unlock(&list->lock);
}
#else
static bool open_lock(job_list *list)
{
	(void)list;
	return true;
}

static void close_lock(job_list *list)
{
	(void)list;
}

static void lock(job_list *list)
{
	(void)list;
}

static void unlock(job_list *list)
{
	(void)list;
}
#endif

static void note_done(job_list *list, bool goes_on)
{
	const crew_jobs *jobs = list->jobs;
	list->n_done++;
	if (!goes_on || (jobs->progress && !jobs->progress(jobs->context, list->n_done)))
		list->ends = true;
}

static void work_off(void *context, size_t worker)
{
	job_list *list = context;
	const crew_jobs *jobs = list->jobs;
	lock(list);
	while (!list->ends && list->n_taken < jobs->n_jobs) {
		const size_t job = list->n_taken++;
		unlock(list);
		const bool goes_on = jobs->job(jobs->context, worker, job);
		lock(list);
		note_done(list, goes_on);
	}
	unlock(list);
}

bool crew_do(const crew_jobs *jobs)
{
	job_list list = {.jobs = jobs};
	if (!open_lock(&list))
		return false;
	crew_run(jobs->n_workers < jobs->n_jobs ? jobs->n_workers : jobs->n_jobs, work_off, &list);
	close_lock(&list);
	return list.n_done == jobs->n_jobs;
}
