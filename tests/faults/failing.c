/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "failing.h"

#include <cjson/cJSON.h>
#include <gsl/gsl_matrix.h>
#include <stdlib.h>

#include "rigbudget/init.h"

/* The linker gives these names:
 * NOLINTBEGIN(bugprone-reserved-identifier,cert-dcl37-c,cert-dcl51-cpp) */
void *__real_malloc(size_t size);
void *__real_calloc(size_t n, size_t size);
void *__real_realloc(void *old, size_t size);
void __real_free(void *old);
gsl_vector *__real_gsl_vector_alloc(size_t n);
gsl_matrix *__real_gsl_matrix_alloc(size_t rows, size_t columns);
gsl_matrix *__real_gsl_matrix_calloc(size_t rows, size_t columns);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t n, size_t size);
void *__wrap_realloc(void *old, size_t size);
void __wrap_free(void *old);
gsl_vector *__wrap_gsl_vector_alloc(size_t n);
gsl_matrix *__wrap_gsl_matrix_alloc(size_t rows, size_t columns);
gsl_matrix *__wrap_gsl_matrix_calloc(size_t rows, size_t columns);

static long until_failure = -1; /* allocations that still succeed; -1: all */
static bool for_good;           /* all later ones fail too */
static bool has_failed;
static bool (*asked)(void);
static long n_live; /* pieces taken and not given back */

static bool fails(void)
{
	if (asked != NULL && asked())
		return true;
	if (until_failure < 0)
		return false;
	if (until_failure > 0) {
		until_failure--;
		return false;
	}
	has_failed = true;
	if (!for_good)
		until_failure = -1;
	return true;
}

static void *counted(void *made)
{
	n_live += made != NULL;
	return made;
}

void *__wrap_malloc(size_t size)
{
	return fails() ? NULL : counted(__real_malloc(size));
}

void *__wrap_calloc(size_t n, size_t size)
{
	return fails() ? NULL : counted(__real_calloc(n, size));
}

void *__wrap_realloc(void *old, size_t size)
{
	if (fails())
		return NULL;
	return old == NULL ? counted(__real_realloc(NULL, size)) : __real_realloc(old, size);
}

void __wrap_free(void *old)
{
	n_live -= old != NULL;
	__real_free(old);
}

gsl_vector *__wrap_gsl_vector_alloc(size_t n)
{
	return fails() ? NULL : __real_gsl_vector_alloc(n);
}

gsl_matrix *__wrap_gsl_matrix_alloc(size_t rows, size_t columns)
{
	return fails() ? NULL : __real_gsl_matrix_alloc(rows, columns);
}

gsl_matrix *__wrap_gsl_matrix_calloc(size_t rows, size_t columns)
{
	return fails() ? NULL : __real_gsl_matrix_calloc(rows, columns);
}
/* NOLINTEND(bugprone-reserved-identifier,cert-dcl37-c,cert-dcl51-cpp) */

void failing_after(long n, bool lasting)
{
	until_failure = n;
	for_good = lasting;
	has_failed = false;
}

long failing_stop(void)
{
	const long left = until_failure;
	until_failure = -1;
	asked = NULL;
	return left;
}

bool failing_never_did(void)
{
	failing_stop();
	return !has_failed;
}

void failing_ask(bool (*whether)(void))
{
	asked = whether;
}

long failing_n_live(void)
{
	return n_live;
}

void failing_set_up(void)
{
	rig_init();
	cJSON_InitHooks(&(cJSON_Hooks){__wrap_malloc, __wrap_free});
}

void failing_tear_down(void)
{
	cJSON_InitHooks(NULL);
}
