/* SPDX-License-Identifier: GPL-3.0-or-later */
/* docs/rig-file.md and docs/parts-file.md against the key table. Between `<!-- keys: load -->` and
 * `<!-- end -->` stands the table of an object; the examples are read. RIG_REWRITE=1 in the
 * environment writes the tables anew, for review in the difference. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/buffer.h"
#include "base/file.h"
#include "rig/keys.h"
#include "rigbudget/coach.h"
#include "rigbudget/parts.h"
#include "suites.h"

/* The manuals, and which objects stand in each. */
static const struct {
	const char *path;
	int first, end;
	int n_examples; /* at least */
} MANUAL[] = {{RIG_SOURCE_DIR "/docs/rig-file.md", 0, RIG_N_OBJECTS, 2},
	{RIG_SOURCE_DIR "/docs/parts-file.md", RIG_OBJECT_PARTS, RIG_N_ALL_OBJECTS, 1}};
static const char BEGIN[] = "<!-- keys: ", END[] = "<!-- end -->";

static void add_range(rig_buffer *text, const rig_key *key)
{
	const char *unit = rig_key_unit(key, 0);
	rig_buffer_format(text, "%s%.6g to %.6g%s%s", key->kind == RIG_KEY_WHOLE ? "whole, " : "",
		key->low, key->high, *unit == '\0' ? "" : " ", unit);
}

static const char *article(const char *word)
{
	return strchr("aeiou", *word) != NULL ? "an" : "a";
}

static void add_allowed(rig_buffer *text, const rig_key *key)
{
	switch (key->kind) {
	case RIG_KEY_TEXT:
		rig_buffer_format(text, "text, at most %d bytes", RIG_MAX_TEXT);
		break;
	case RIG_KEY_FORMAT:
		rig_buffer_format(text, "`%s`", key->example);
		break;
	case RIG_KEY_ID:
		rig_buffer_format(text, "1 to %d of a-z A-Z 0-9 - _, unique", RIG_MAX_ID);
		break;
	case RIG_KEY_REFERENCE:
		rig_buffer_format(text, "the id of %s %s", article(rig_target_word(key->target)),
			rig_target_word(key->target));
		break;
	case RIG_KEY_REFERENCES:
		rig_buffer_format(
			text, "a list of %s ids, each once", rig_target_word(key->target));
		break;
	case RIG_KEY_YES_NO:
		rig_buffer_add(text, "`true` or `false`");
		break;
	case RIG_KEY_CHOICE:
	case RIG_KEY_NUMBER:
		for (size_t i = 0; key->words[i].text != NULL; i++)
			rig_buffer_format(text, "%s`%s`", i == 0 ? "" : ", ", key->words[i].text);
		break;
	case RIG_KEY_OBJECT:
		rig_buffer_format(text, "%s [%s](#%s)", article(rig_keys_of(key->object)->name),
			rig_keys_of(key->object)->name, rig_keys_of(key->object)->name);
		break;
	case RIG_KEY_LIST:
		rig_buffer_format(text, "at most %.0f of [%s](#%s)", key->high,
			rig_keys_of(key->object)->name, rig_keys_of(key->object)->name);
		break;
	default:
		add_range(text, key);
		break;
	}
}

static void add_table(rig_buffer *text, rig_object object)
{
	const rig_object_keys *keys = rig_keys_of(object);
	rig_buffer_add(text, "| key | what | allowed | left out |\n| --- | --- | --- | --- |\n");
	for (size_t i = 0; i < keys->n_keys; i++) {
		const rig_key *key = &keys->keys[i];
		for (unsigned u = 0; u < RIG_N_KEY_NAMES && key->name[u] != NULL; u++)
			rig_buffer_format(text, "%s`%s`", u == 0 ? "| " : " ", key->name[u]);
		rig_buffer_format(text, " | %s | ", key->what);
		add_allowed(text, key);
		rig_buffer_format(text, " | %s |\n",
			key->required         ? "**must be there**"
			: key->absent != NULL ? key->absent
					      : "nothing");
	}
}

static rig_buffer read_manual(int manual)
{
	rig_buffer text = {0};
	rig_diags *diags = rig_diags_new();
	ck_assert_int_eq(rig_file_read(MANUAL[manual].path, 1 << 22, &text, diags), RIG_OK);
	rig_diags_free(diags);
	return text;
}

/* The manual with the tables as they should be. */
static void with_tables(int manual, const char *text, rig_buffer *into, int *n_tables)
{
	const char *at = text;
	for (const char *begin = strstr(at, BEGIN); begin != NULL; begin = strstr(at, BEGIN)) {
		const char *name = begin + strlen(BEGIN);
		const char *line_end = strchr(name, '\n') + 1;
		const char *end = strstr(line_end, END);
		ck_assert_ptr_nonnull(end);
		rig_buffer_add_bytes(into, at, (size_t)(line_end - at));
		for (int object = MANUAL[manual].first; object < MANUAL[manual].end; object++) {
			const char *word = rig_keys_of((rig_object)object)->name;
			if (strncmp(name, word, strlen(word)) != 0 || name[strlen(word)] != ' ')
				continue;
			add_table(into, (rig_object)object);
			(*n_tables)++;
		}
		at = end;
	}
	rig_buffer_add(into, at);
}

START_TEST(the_tables_of_the_manual_are_those_of_the_program)
{
	rig_buffer text = read_manual(_i), right = {0};
	int n_tables = 0;
	with_tables(_i, text.text, &right, &n_tables);
	ck_assert_int_eq(n_tables, MANUAL[_i].end - MANUAL[_i].first);
	if (getenv("RIG_REWRITE") != NULL) {
		rig_diags *diags = rig_diags_new();
		ck_assert_int_eq(
			rig_file_write(MANUAL[_i].path, right.text, right.length, diags), RIG_OK);
		rig_diags_free(diags);
	} else {
		ck_assert_msg(strcmp(text.text, right.text) == 0,
			"%s is not of this table; run with RIG_REWRITE=1", MANUAL[_i].path);
	}
	rig_buffer_free(&text);
	rig_buffer_free(&right);
}
END_TEST

/* Every fenced example that is a whole file is read without a fault. */
START_TEST(the_examples_of_the_manual_are_right)
{
	static const char FENCE[] = "```json\n";
	rig_buffer text = read_manual(_i);
	int n = 0;
	for (const char *at = strstr(text.text, FENCE); at != NULL; at = strstr(at, FENCE)) {
		at += strlen(FENCE);
		const char *end = strstr(at, "```");
		ck_assert_ptr_nonnull(end);
		rig_diags *diags = rig_diags_new();
		rig_file *file = NULL;
		rig_parts_file *parts = NULL;
		if (_i == 0)
			rig_file_parse(at, (size_t)(end - at), diags, &file);
		else
			rig_parts_parse(at, (size_t)(end - at), diags, &parts);
		ck_assert_msg(file != NULL || parts != NULL, "%s: %s",
			rig_diags_at(diags, 0)->where.path, rig_diags_at(diags, 0)->what);
		rig_file_free(file);
		rig_parts_free(parts);
		rig_diags_free(diags);
		at = end;
		n++;
	}
	ck_assert_int_ge(n, MANUAL[_i].n_examples);
	rig_buffer_free(&text);
}
END_TEST

Suite *manual_suite(void);
Suite *manual_suite(void)
{
	Suite *suite = suite_create("manual");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(
		all, the_tables_of_the_manual_are_those_of_the_program, 0, COUNT(MANUAL));
	tcase_add_loop_test(all, the_examples_of_the_manual_are_right, 0, COUNT(MANUAL));
	suite_add_tcase(suite, all);
	return suite;
}
