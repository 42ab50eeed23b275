/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/pdf.h"

#include "handmade.h"
#include "suites.h"

typedef struct {
	char *bytes;
	size_t length;
} made_pdf;

static made_pdf pdf_of(const char *name, const rig_pdf_options *options)
{
	made_pdf made = {0};
	rig_document *document = handmade(name);
	ck_assert_int_eq(rig_document_pdf(document, options, &made.bytes, &made.length), RIG_OK);
	rig_document_free(document);
	return made;
}

static bool holds(const made_pdf *made, const char *text)
{
	const size_t n = strlen(text);
	for (size_t i = 0; i + n <= made->length; i++) {
		if (memcmp(made->bytes + i, text, n) == 0)
			return true;
	}
	return false;
}

/* The header and the trailer of ISO 32000-1, 7.5.2 and 7.5.5 [ISO-32000]. */
START_TEST(the_same_document_is_the_same_file)
{
	const rig_pdf_options options = {.paper = (rig_paper)_i};
	made_pdf first = pdf_of("Water heater", &options);
	made_pdf second = pdf_of("Water heater", &options);
	ck_assert_uint_eq(first.length, second.length);
	ck_assert_mem_eq(first.bytes, second.bytes, first.length);
	ck_assert_mem_eq(first.bytes, "%PDF-1.5", 8);
	ck_assert(holds(&first, "%%EOF"));
	/* Letter is 8.5 by 11 inches, A4 210 by 297 mm [ISO-216] */
	ck_assert(holds(&first,
		_i == 0 ? "/MediaBox [ 0 0 612 792 ]" : "/MediaBox [ 0 0 595.275591 841.889764 ]"));
	free(first.bytes);
	free(second.bytes);
}
END_TEST

START_TEST(a_date_is_in_the_file_only_if_it_was_given)
{
	static const struct {
		const char *date, *stamp; /* NULL: none */
	} DATES[] = {{NULL, NULL}, {"", NULL}, {"1 March 2026", NULL}, {"2026-3-1", NULL},
		{"2026-03-01", "/CreationDate (20260301"},
		{"2026-03-01T10:30:00Z", "/CreationDate (20260301103000"}};
	for (size_t i = 0; i < COUNT(DATES); i++) {
		const rig_pdf_options options = {.date = DATES[i].date, .author = "R. Example"};
		made_pdf made = pdf_of("Water heater", &options);
		ck_assert_int_eq(holds(&made, "/CreationDate"), DATES[i].stamp != NULL);
		ck_assert(DATES[i].stamp == NULL || holds(&made, DATES[i].stamp));
		ck_assert(!holds(&made, "/ModDate"));
		ck_assert(holds(&made, "/Author (R. Example)"));
		free(made.bytes);
	}
}
END_TEST

START_TEST(no_name_breaks_the_file)
{
	const rig_pdf_options options = {.author = HOSTILE[_i], .date = HOSTILE[_i]};
	made_pdf made = pdf_of(HOSTILE[_i], &options);
	ck_assert(holds(&made, "%%EOF"));
	free(made.bytes);
}
END_TEST

START_TEST(a_document_that_failed_gives_no_file)
{
	const rig_pdf_options options = {0};
	made_pdf made = {0};
	rig_document *document = rig_document_new();
	rig_document_fail(document, RIG_BAD_INPUT);
	ck_assert_int_eq(
		rig_document_pdf(document, &options, &made.bytes, &made.length), RIG_BAD_INPUT);
	ck_assert_ptr_null(made.bytes);
	rig_document_free(document);
}
END_TEST

START_TEST(an_empty_document_is_a_page)
{
	const rig_pdf_options options = {0};
	made_pdf made = {0};
	rig_document *document = rig_document_new();
	ck_assert_int_eq(rig_document_pdf(document, &options, &made.bytes, &made.length), RIG_OK);
	ck_assert(holds(&made, "/Count 1"));
	rig_document_free(document);
	free(made.bytes);
}
END_TEST

Suite *document_pdf_suite(void);
Suite *document_pdf_suite(void)
{
	Suite *suite = suite_create("document_pdf");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_loop_test(all, the_same_document_is_the_same_file, 0, 2);
	tcase_add_test(all, a_date_is_in_the_file_only_if_it_was_given);
	tcase_add_loop_test(all, no_name_breaks_the_file, 0, N_HOSTILE);
	tcase_add_test(all, a_document_that_failed_gives_no_file);
	tcase_add_test(all, an_empty_document_is_a_page);
	suite_add_tcase(suite, all);
	return suite;
}
