/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/arena.h"

#include <stdbool.h>
#include <stdint.h>
#include <string.h>

#include "suites.h"

static bool all_are(const unsigned char *bytes, size_t size, unsigned char value)
{
	size_t n = 0;
	while (n < size && bytes[n] == value)
		n++;
	return n == size;
}

START_TEST(pieces_are_zeroed_aligned_and_apart)
{
	enum { N = 3000 };
	static unsigned char *piece[N];
	rig_arena *arena = rig_arena_new();
	for (size_t i = 0; i < N; i++) {
		const size_t size = i * 7919 % 500 + (i % 100 == 0 ? 100000 : 1);
		piece[i] = rig_arena_take(arena, size, 1);
		ck_assert_ptr_nonnull(piece[i]);
		ck_assert_uint_eq((uintptr_t)piece[i] % _Alignof(max_align_t), 0);
		ck_assert(all_are(piece[i], size, 0));
		memset(piece[i], (int)(i % 255) + 1, size);
	}
	for (size_t i = 0; i < N; i++) {
		const size_t size = i * 7919 % 500 + (i % 100 == 0 ? 100000 : 1);
		ck_assert(all_are(piece[i], size, (unsigned char)(i % 255 + 1)));
	}
	rig_arena_free(arena);
}
END_TEST

START_TEST(nothing_is_a_valid_request)
{
	rig_arena *arena = rig_arena_new();
	void *first = rig_arena_take(arena, 0, 8);
	void *second = rig_arena_take(arena, 8, 0);
	ck_assert_ptr_nonnull(first);
	ck_assert_ptr_nonnull(second);
	ck_assert_ptr_ne(first, second);
	rig_arena_free(arena);
	rig_arena_free(NULL);
}
END_TEST

START_TEST(a_product_that_overflows_is_refused)
{
	rig_arena *arena = rig_arena_new();
	ck_assert_ptr_null(rig_arena_take(arena, SIZE_MAX / 2, 3));
	ck_assert_ptr_null(rig_arena_take(arena, SIZE_MAX, 1));
	ck_assert_ptr_null(rig_arena_take(arena, SIZE_MAX - 64, 1));
	ck_assert_ptr_nonnull(rig_arena_take(arena, 1, 1));
	rig_arena_free(arena);
}
END_TEST

START_TEST(texts_are_copied_and_made)
{
	rig_arena *arena = rig_arena_new();
	char given[] = "12 V";
	char *copy = rig_arena_text(arena, given);
	given[0] = 'x';
	ck_assert_str_eq(copy, "12 V");
	ck_assert_str_eq(rig_arena_text(arena, ""), "");
	ck_assert_str_eq(rig_arena_format(arena, "loads[%d].%s", 2, "name"), "loads[2].name");
	char *wide = rig_arena_format(arena, "%5000d", 7);
	ck_assert_uint_eq(strlen(wide), 5000);
	ck_assert_int_eq(wide[4999], '7');
	rig_arena_free(arena);
}
END_TEST

START_TEST(an_arena_remembers_what_was_not_to_be_had)
{
	rig_arena *arena = rig_arena_new();
	ck_assert_ptr_nonnull(rig_arena_take(arena, 1, 1));
	ck_assert(!rig_arena_failed(arena));
	ck_assert_ptr_null(rig_arena_take(arena, SIZE_MAX, 2));
	ck_assert(rig_arena_failed(arena));
	ck_assert_ptr_nonnull(rig_arena_take(arena, 1, 1));
	ck_assert(rig_arena_failed(arena));
	rig_arena_free(arena);
}
END_TEST

Suite *arena_suite(void);
Suite *arena_suite(void)
{
	Suite *suite = suite_create("arena");
	TCase *all = tcase_create("all");
	tcase_add_test(all, pieces_are_zeroed_aligned_and_apart);
	tcase_add_test(all, nothing_is_a_valid_request);
	tcase_add_test(all, a_product_that_overflows_is_refused);
	tcase_add_test(all, texts_are_copied_and_made);
	tcase_add_test(all, an_arena_remembers_what_was_not_to_be_had);
	suite_add_tcase(suite, all);
	return suite;
}
