/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/suggest.h"

#include <stdio.h>
#include <string.h>

#include "suites.h"

static const char *const KEYS[] = {"name", "running_w", "running_a", "daily_use_h", "breaker_a",
	"circuit", "circuits", "awg", "leg", "watts_w", "bank", "tilt_deg"};

static const char *key_at(const void *context, size_t i)
{
	return ((const char *const *)context)[i];
}

static const struct {
	const char *word, *key;
} WORD[] = {
	{"name", "name"}, {"nmae", "name"},                   /* two letters exchanged */
	{"nam", "name"},                                      /* one left out */
	{"naame", "name"},                                    /* one too many */
	{"nome", "name"},                                     /* one wrong */
	{"NAME", "name"},                                     /* capitals */
	{"runing_w", "running_w"},                            /* nearer than running_a */
	{"running_A", "running_a"}, {"daily_us_hours", NULL}, /* five edits of 14 letters */
	{"daily_usage_h", "daily_use_h"},
	{"circuitt", "circuit"}, /* the first of two that are equally near */
	{"braeker", NULL}, {"braeker_a", "breaker_a"},
	{"gwa", NULL}, /* two edits; one is allowed in three letters */
	{"lag", "leg"}, {"x", NULL}, {"", NULL}, {"e", NULL}, {"humidity", NULL},
	{"daily", "daily_use_h"}, /* the beginning of a key */
	{"Running", "running_w"}, /* of two, the first */
	{"til", NULL},            /* too little of one */
	{"runni", NULL},          /* it ends within a word */
};

START_TEST(slips_are_recognised_and_other_words_are_not)
{
	const char *key = rig_suggest(WORD[_i].word, COUNT(KEYS), key_at, KEYS);
	ck_assert_pstr_eq(key, WORD[_i].key);
}
END_TEST

/* Every slip of one key stroke in a word of four letters or more finds the word again, or another
 * that is as near. */
START_TEST(any_letter_left_out_or_doubled_is_found)
{
	for (int k = 0; k < COUNT(KEYS); k++) {
		const size_t length = strlen(KEYS[k]);
		for (size_t i = 0; i < length && length >= 4; i++) {
			char word[64];
			const int before = (int)i;
			snprintf(word, sizeof word, "%.*s%s", before, KEYS[k], KEYS[k] + i + 1);
			ck_assert_ptr_nonnull(rig_suggest(word, COUNT(KEYS), key_at, KEYS));
			snprintf(word, sizeof word, "%.*s%s", before + 1, KEYS[k], KEYS[k] + i);
			ck_assert_ptr_nonnull(rig_suggest(word, COUNT(KEYS), key_at, KEYS));
		}
	}
}
END_TEST

START_TEST(a_long_word_or_no_candidate_gives_nothing)
{
	char word[5000];
	memset(word, 'a', sizeof word - 1);
	word[sizeof word - 1] = '\0';
	const char *const same[] = {word};
	ck_assert_ptr_null(rig_suggest(word, 1, key_at, same));
	ck_assert_ptr_null(rig_suggest("name", 1, key_at, same));
	ck_assert_ptr_null(rig_suggest("name", 0, key_at, KEYS));
}
END_TEST

Suite *suggest_suite(void);
Suite *suggest_suite(void)
{
	Suite *suite = suite_create("suggest");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, slips_are_recognised_and_other_words_are_not, 0, COUNT(WORD));
	tcase_add_test(all, any_letter_left_out_or_doubled_is_found);
	tcase_add_test(all, a_long_word_or_no_candidate_gives_nothing);
	suite_add_tcase(suite, all);
	return suite;
}
