/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suites.h"

#include <math.h>

#include "golden.h"
#include "handmade.h"
#include "wellformed.h"

static char *page_of(const char *name)
{
	rig_document *document = handmade(name);
	char *page = NULL;
	ck_assert_int_eq(rig_document_html(document, &page), RIG_OK);
	rig_document_free(document);
	return page;
}

START_TEST(the_checker_finds_what_is_wrong)
{
	static const char *const WRONG[] = {"<p>", "</p>", "<p><b></p></b>", "<p a=b></p>",
		"<p>&nbsp;</p>", "<p onclick=\"x\"></p>", "a > b", "<p a=\"<\"></p>", "a\tb",
		"< p></p>"};
	tag_stack stack;
	for (int i = 0; i < COUNT(WRONG); i++)
		ck_assert_msg(page_fault(WRONG[i], &stack) != NULL, "missed: %s", WRONG[i]);
	ck_assert_ptr_null(page_fault("<!DOCTYPE html>\n<p a=\"1\">&lt;<br/></p>", &stack));
}
END_TEST

START_TEST(the_page_is_well_formed_whatever_the_names)
{
	char *page = page_of(HOSTILE[_i]);
	tag_stack stack;
	const char *wrong = page_fault(page, &stack);
	ck_assert_msg(wrong == NULL, "%s", wrong);
	free(page);
}
END_TEST

START_TEST(the_page_runs_nothing_and_asks_for_nothing)
{
	char *page = page_of(HOSTILE[_i]);
	ck_assert_ptr_nonnull(strstr(page,
		"<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
		"style-src 'unsafe-inline'; img-src data:\">"));
	static const char *const FORBIDDEN[] = {"<script", "<img", "<link", "<iframe", "<object",
		"url(", "@import", "javascript:", "<base", "<form"};
	for (int i = 0; i < COUNT(FORBIDDEN); i++)
		ck_assert_msg(strstr(page, FORBIDDEN[i]) == NULL, "found %s", FORBIDDEN[i]);
	free(page);
}
END_TEST

static size_t count_of(const char *text, const char *part)
{
	size_t n = 0;
	for (; (text = strstr(text, part)) != NULL; text += strlen(part))
		n++;
	return n;
}

START_TEST(readers_of_screens_find_landmarks_headings_and_heads_of_tables)
{
	char *page = page_of("Pump");
	ck_assert_uint_eq(count_of(page, "<main>"), 1);
	ck_assert_uint_eq(count_of(page, "<h1>"), 1);
	ck_assert_ptr_nonnull(strstr(page, "<html lang=\"en\">"));
	/* each chart twice, for the page and the telephone; each with a name and words */
	ck_assert_uint_eq(count_of(page, "<svg "), 10);
	ck_assert_uint_eq(count_of(page, "role=\"img\" aria-labelledby="), 10);
	ck_assert_uint_eq(count_of(page, "<desc id="), 10);
	/* one table of our own and one behind each chart */
	ck_assert_uint_eq(count_of(page, "<table>"), 6);
	ck_assert_uint_eq(count_of(page, "<details>"), 5);
	ck_assert_uint_eq(count_of(page, "<td"), count_of(page, "</td>"));
	ck_assert_uint_gt(count_of(page, "scope=\"col\""), 10);
	ck_assert_uint_gt(count_of(page, "scope=\"row\""), 10);
	free(page);
}
END_TEST

START_TEST(no_id_is_given_twice)
{
	char *page = page_of("Pump");
	for (const char *at = page; (at = strstr(at, " id=\"")) != NULL; at += 5) {
		char id[40];
		snprintf(id, sizeof id, "%.*s", (int)strcspn(at + 5, "\"") + 6, at);
		ck_assert_msg(count_of(page, id) == 1, "twice:%s", id);
	}
	free(page);
}
END_TEST

/* Contrast of two colours by the formula of [WCAG-22]. */
static double channel(unsigned byte)
{
	const double c = byte / 255.0;
	return c <= 0.04045 ? c / 12.92 : pow((c + 0.055) / 1.055, 2.4);
}

/* "#rgb" or "#rrggbb", up to a semicolon. */
static double luminance(const char *hex)
{
	const size_t n = strcspn(hex + 1, ";");
	ck_assert(n == 3 || n == 6);
	double light[3];
	for (size_t i = 0; i < 3; i++) {
		const char digits[] = {hex[1 + i * n / 3], hex[1 + i * n / 3 + (n == 6)], '\0'};
		char *end;
		light[i] = channel((unsigned)strtoul(digits, &end, 16));
		ck_assert_ptr_eq(end, digits + 2);
	}
	return 0.2126 * light[0] + 0.7152 * light[1] + 0.0722 * light[2];
}

static double contrast(const char *block, const char *name, const char *ground)
{
	char first[32];
	char second[32];
	snprintf(first, sizeof first, "--%s: ", name);
	snprintf(second, sizeof second, "--%s: ", ground);
	const char *a = strstr(block, first);
	const char *b = strstr(block, second);
	ck_assert_msg(a != NULL && b != NULL, "--%s or --%s is missing", name, ground);
	const double one = luminance(a + strlen(first));
	const double other = luminance(b + strlen(second));
	return (fmax(one, other) + 0.05) / (fmin(one, other) + 0.05);
}

START_TEST(the_formula_for_contrast_is_the_published_one)
{
	/* black on white is 21 : 1 by definition; grey 767676 on white is 4.54 : 1 [WCAG-22] */
	ck_assert_double_eq_tol(contrast("--a: #000; --b: #ffffff;", "a", "b"), 21.0, 1e-9);
	ck_assert_double_eq_tol(contrast("--a: #767676; --b: #fff;", "a", "b"), 4.54, 0.005);
}
END_TEST

/* Words 4.5 : 1, lines and bars 3 : 1, on screen in the light, in the dark and on paper. */
START_TEST(colours_stand_out_in_the_light_in_the_dark_and_on_paper)
{
	static const struct {
		const char *name, *ground;
		double least;
	} PAIR[] = {{"ink", "sheet", 4.5}, {"quiet", "sheet", 4.5}, {"warn", "warn-wash", 4.5},
		{"ink", "warn-wash", 4.5}, {"s3", "sheet", 3.0}, {"s4", "sheet", 3.0},
		{"s5", "sheet", 3.0}, {"s6", "sheet", 3.0}};
	char *css = file_of_tree("src/report/sheet.css");
	ck_assert_ptr_nonnull(css);
	int n_blocks = 0;
	for (const char *block = css; (block = strstr(block, ":root {")) != NULL; block++) {
		n_blocks++;
		for (int i = 0; i < COUNT(PAIR); i++)
			ck_assert_msg(
				contrast(block, PAIR[i].name, PAIR[i].ground) >= PAIR[i].least,
				"%s on %s, block %d: %.2f", PAIR[i].name, PAIR[i].ground, n_blocks,
				contrast(block, PAIR[i].name, PAIR[i].ground));
	}
	ck_assert_int_eq(n_blocks, 3);
	free(css);
}
END_TEST

Suite *document_html_suite(void);
Suite *document_html_suite(void)
{
	Suite *suite = suite_create("document_html");
	TCase *all = tcase_create("all");
	tcase_add_test(all, the_checker_finds_what_is_wrong);
	tcase_add_loop_test(all, the_page_is_well_formed_whatever_the_names, 0, N_HOSTILE);
	tcase_add_loop_test(all, the_page_runs_nothing_and_asks_for_nothing, 0, N_HOSTILE);
	tcase_add_test(all, readers_of_screens_find_landmarks_headings_and_heads_of_tables);
	tcase_add_test(all, no_id_is_given_twice);
	tcase_add_test(all, the_formula_for_contrast_is_the_published_one);
	tcase_add_test(all, colours_stand_out_in_the_light_in_the_dark_and_on_paper);
	suite_add_tcase(suite, all);
	return suite;
}
