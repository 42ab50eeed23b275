/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suites.h"

#include "golden.h"
#include "handmade.h"
#include "report/glyph.h"

static char *text_of(const char *name, bool emphasis)
{
	rig_document *document = handmade(name);
	char *text = NULL;
	ck_assert_int_eq(rig_document_text(document, emphasis, &text), RIG_OK);
	rig_document_free(document);
	return text;
}

START_TEST(the_text_of_a_document_is_as_it_was_reviewed)
{
	char *text = text_of("Water heater", false);
	check_golden("document.txt", text);
	free(text);
}
END_TEST

START_TEST(no_line_is_wider_than_eighty_columns)
{
	char *text = text_of(HOSTILE[_i], false);
	for (char *line = strtok(text, "\n"); line != NULL; line = strtok(NULL, "\n"))
		ck_assert_msg(rig_glyph_text_columns(line) <= 80, "too wide: %s", line);
	free(text);
}
END_TEST

START_TEST(no_hidden_character_gets_through)
{
	char *text = text_of(HOSTILE[_i], false);
	for (const char *at = text; *at != '\0';) {
		const uint32_t character = rig_glyph_next(&at);
		ck_assert_msg(character == '\n' || !rig_glyph_is_hidden(character),
			"U+%04X got through", (unsigned)character);
	}
	free(text);
}
END_TEST

START_TEST(emphasis_only_adds_terminal_codes)
{
	char *plain = text_of("Pump", false);
	char *bold = text_of("Pump", true);
	ck_assert_ptr_null(strchr(plain, '\x1b'));
	size_t n = 0;
	for (const char *at = bold; *at != '\0'; at++) {
		if (strncmp(at, "\x1b[1m", 4) == 0 || strncmp(at, "\x1b[0m", 4) == 0)
			at += 4;
		ck_assert_int_eq(*at, plain[n++]);
		if (*at == '\0')
			break;
	}
	ck_assert_ptr_nonnull(strchr(bold, '\x1b'));
	free(plain);
	free(bold);
}
END_TEST

/* Twelve columns of words cannot stand side by side: each row becomes a list. */
START_TEST(a_table_too_wide_for_the_page_is_stacked)
{
	enum { N = 14 };
	rig_column columns[N];
	const char *cells[N];
	for (int i = 0; i < N; i++) {
		columns[i] = (rig_column){"quantities", "watts", RIG_ALIGN_LEFT};
		cells[i] = "refrigerator";
	}
	rig_document *document = rig_document_new();
	const rig_table table = {"Wide", N, 1, columns, cells};
	rig_add_table(document, &table);
	char *text = NULL;
	ck_assert_int_eq(rig_document_text(document, false, &text), RIG_OK);
	ck_assert_ptr_nonnull(strstr(text, "  quantities: refrigerator watts\n"));
	free(text);
	rig_document_free(document);
}
END_TEST

Suite *document_text_suite(void);
Suite *document_text_suite(void)
{
	Suite *suite = suite_create("document_text");
	TCase *all = tcase_create("all");
	tcase_add_test(all, the_text_of_a_document_is_as_it_was_reviewed);
	tcase_add_loop_test(all, no_line_is_wider_than_eighty_columns, 0, N_HOSTILE);
	tcase_add_loop_test(all, no_hidden_character_gets_through, 0, N_HOSTILE);
	tcase_add_test(all, emphasis_only_adds_terminal_codes);
	tcase_add_test(all, a_table_too_wide_for_the_page_is_stacked);
	suite_add_tcase(suite, all);
	return suite;
}
