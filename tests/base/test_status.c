/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/status.h"

#include <string.h>

#include "suites.h"

START_TEST(every_status_has_a_phrase_of_its_own)
{
	for (int i = 0; i < RIG_N_STATUS; i++) {
		const char *text = rig_status_text((rig_status)i);
		ck_assert_uint_gt(strlen(text), 0);
		ck_assert(text[0] >= 'a' && text[0] <= 'z');
		ck_assert_int_ne(text[strlen(text) - 1], '.');
		for (int j = 0; j < i; j++)
			ck_assert_str_ne(text, rig_status_text((rig_status)j));
	}
	ck_assert_int_eq(RIG_OK, 0);
	ck_assert_str_eq(rig_status_text(RIG_NO_MEMORY), "out of memory");
}
END_TEST

Suite *status_suite(void);
Suite *status_suite(void)
{
	Suite *suite = suite_create("status");
	TCase *all = tcase_create("all");
	tcase_add_test(all, every_status_has_a_phrase_of_its_own);
	suite_add_tcase(suite, all);
	return suite;
}
