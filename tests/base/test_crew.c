/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/crew.h"

#include <stdatomic.h>

#include "suites.h"

enum { MOST = 300 };

typedef struct {
	atomic_int times[MOST];
	size_t n_workers, last_told;
	bool told_wrong;
	atomic_bool worker_wrong;
	size_t stops_at; /* told: no more after so many; 0: never */
	size_t fails_at; /* this job says stop */
} book;

static bool note_job(void *context, size_t worker, size_t job)
{
	book *it = context;
	it->times[job]++;
	if (worker >= it->n_workers)
		it->worker_wrong = true;
	return job != it->fails_at;
}

static bool note_progress(void *context, size_t n_done)
{
	book *it = context;
	it->told_wrong = it->told_wrong || n_done != it->last_told + 1;
	it->last_told = n_done;
	return it->stops_at == 0 || n_done < it->stops_at;
}

static const struct {
	size_t n_workers, n_jobs;
} CASES[] = {{1, 0}, {1, 1}, {1, 300}, {2, 1}, {2, 300}, {8, 3}, {8, 300}, {64, 300}};

START_TEST(every_job_is_done_once_and_told_of_in_turn)
{
	book it = {.n_workers = CASES[_i].n_workers, .fails_at = MOST};
	const crew_jobs jobs = {it.n_workers, CASES[_i].n_jobs, &it, note_job, note_progress};
	ck_assert(crew_do(&jobs));
	for (size_t job = 0; job < MOST; job++)
		ck_assert_int_eq(it.times[job], job < CASES[_i].n_jobs ? 1 : 0);
	ck_assert_uint_eq(it.last_told, CASES[_i].n_jobs);
	ck_assert(!it.told_wrong && !it.worker_wrong);
}
END_TEST

START_TEST(nothing_is_begun_after_a_stop)
{
	const size_t n_workers = _i == 0 ? 1 : 2;
	book told = {.n_workers = n_workers, .fails_at = MOST, .stops_at = 10};
	ck_assert(!crew_do(&(crew_jobs){n_workers, MOST, &told, note_job, note_progress}));
	book failed = {.n_workers = n_workers, .fails_at = 9};
	ck_assert(!crew_do(&(crew_jobs){n_workers, MOST, &failed, note_job, NULL}));
	int n_told = 0, n_failed = 0;
	for (size_t job = 0; job < MOST; job++) {
		n_told += told.times[job];
		n_failed += failed.times[job];
	}
	/* whoever else is at work ends what is begun */
	ck_assert_int_ge(n_told, 10);
	ck_assert_int_lt(n_told, 10 + (int)n_workers);
	ck_assert_int_ge(n_failed, 10);
	if (n_workers == 1)
		ck_assert_int_eq(n_failed, 10);
}
END_TEST

static void note_worker(void *context, size_t worker)
{
	book *it = context;
	it->times[worker]++;
}

START_TEST(each_worker_works_once)
{
	book it = {.n_workers = 5};
	crew_run(5, note_worker, &it);
	ck_assert_int_eq(it.times[0], 1);
	for (size_t worker = 0; worker < MOST; worker++)
		ck_assert_int_le(it.times[worker], worker < 5 ? 1 : 0);
}
END_TEST

Suite *crew_suite(void);
Suite *crew_suite(void)
{
	Suite *suite = suite_create("crew");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, every_job_is_done_once_and_told_of_in_turn, 0, COUNT(CASES));
	tcase_add_loop_test(all, nothing_is_begun_after_a_stop, 0, 2);
	tcase_add_test(all, each_worker_works_once);
	suite_add_tcase(suite, all);
	return suite;
}
