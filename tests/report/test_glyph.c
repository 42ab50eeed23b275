/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/glyph.h"

#include <string.h>

#include "suites.h"

/* Well-formed and not, by the table of well-formed byte sequences in [UNICODE-14], table 3-7. */
static const struct {
	const char *bytes;
	uint32_t character;
	int length;
} DECODED[] = {
	{"A", 'A', 1}, {"\xc3\xa9", 0xe9, 2}, {"\xe2\x82\xac", 0x20ac, 3},
	{"\xf0\x9f\x9a\x90", 0x1f690, 4}, {"\xf4\x8f\xbf\xbf", 0x10ffff, 4},
	{"\xc0\x80", RIG_GLYPH_WRONG, 1},                               /* overlong NUL */
	{"\xe0\x80\xaf", RIG_GLYPH_WRONG, 1},                           /* overlong slash */
	{"\xed\xa0\x80", RIG_GLYPH_WRONG, 1},                           /* surrogate */
	{"\xf4\x90\x80\x80", RIG_GLYPH_WRONG, 1},                       /* beyond the last plane */
	{"\xff", RIG_GLYPH_WRONG, 1}, {"\xe2\x82", RIG_GLYPH_WRONG, 1}, /* cut short */
};

START_TEST(characters_are_read_as_unicode_says)
{
	const char *at = DECODED[_i].bytes;
	ck_assert_uint_eq(rig_glyph_next(&at), DECODED[_i].character);
	ck_assert_int_eq((int)(at - DECODED[_i].bytes), DECODED[_i].length);
}
END_TEST

/* General category and East Asian width: [UNICODE-14]. */
static const struct {
	uint32_t character;
	int columns;
	bool hidden;
} KNOWN[] = {
	{'a', 1, false},
	{0xe9, 1, false},
	{0x301, 0, false},
	{0x65e5, 2, false},
	{0xac00, 2, false},
	{0xff21, 2, false},
	{0x1f600, 2, false},
	{0x5d0, 1, false},
	{0x7, 1, true},
	{0x1b, 1, true},
	{0x9b, 1, true},
	{0x202e, 1, true},
	{0x2066, 1, true},
	{0x200b, 1, true},
	{0xfeff, 1, true},
	{0x2028, 1, true},
	{0xe0041, 1, true},
	{0xffff, 1, true},
	{0x61c, 1, true},
};

START_TEST(widths_and_hidden_characters_are_those_of_unicode)
{
	ck_assert_int_eq(rig_glyph_is_hidden(KNOWN[_i].character), KNOWN[_i].hidden);
	if (!KNOWN[_i].hidden)
		ck_assert_int_eq(rig_glyph_columns(KNOWN[_i].character), KNOWN[_i].columns);
}
END_TEST

static const struct {
	const char *text, *shown, *marked_up;
} WRITTEN[] = {
	{"plain", "plain", "plain"},
	{"a\nb\tc", "a<U+000A>b<U+0009>c", "a&lt;U+000A&gt;b&lt;U+0009&gt;c"},
	{"\x1b[31mred", "<U+001B>[31mred", "&lt;U+001B&gt;[31mred"},
	{"x\xe2\x80\xaey", "x<U+202E>y", "x&lt;U+202E&gt;y"},
	{"<b a=\"1\" c='2'>&", "<b a=\"1\" c='2'>&",
		"&lt;b a=&quot;1&quot; c=&#39;2&#39;&gt;&amp;"},
	{"\xff", "\xef\xbf\xbd", "\xef\xbf\xbd"},
	/* a left-to-right mark after right-to-left letters keeps figures in their place */
	{"\xd7\x90 30 A", "\xd7\x90 30 A", "\xd7\x90&#8206; 30 A"},
};

START_TEST(nothing_dangerous_reaches_text_or_markup)
{
	rig_buffer buffer = {0};
	rig_glyph_show(&buffer, WRITTEN[_i].text);
	ck_assert_str_eq(buffer.text, WRITTEN[_i].shown);
	rig_buffer_free(&buffer);
	rig_buffer markup = {0};
	rig_glyph_mark_up(&markup, WRITTEN[_i].text);
	ck_assert_str_eq(markup.text, WRITTEN[_i].marked_up);
	rig_buffer_free(&markup);
}
END_TEST

START_TEST(columns_of_a_text_add_up)
{
	ck_assert_uint_eq(rig_glyph_text_columns("abc"), 3);
	ck_assert_uint_eq(rig_glyph_text_columns("\xe6\x97\xa5\xe6\x9c\xac"), 4);
	ck_assert_uint_eq(rig_glyph_text_columns("e\xcc\x81"), 1);
}
END_TEST

START_TEST(a_wider_text_measures_wider)
{
	ck_assert_double_gt(rig_glyph_text_width("WW"), rig_glyph_text_width("ii"));
	ck_assert_double_gt(rig_glyph_text_width("ab"), rig_glyph_text_width("a"));
	/* spelt out, a hidden character takes at least the width of "<U+202E>" */
	ck_assert_double_ge(rig_glyph_text_width("\xe2\x80\xae"), rig_glyph_text_width("<U+202E>"));
}
END_TEST

Suite *glyph_suite(void);
Suite *glyph_suite(void)
{
	Suite *suite = suite_create("glyph");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, characters_are_read_as_unicode_says, 0, COUNT(DECODED));
	tcase_add_loop_test(
		all, widths_and_hidden_characters_are_those_of_unicode, 0, COUNT(KNOWN));
	tcase_add_loop_test(all, nothing_dangerous_reaches_text_or_markup, 0, COUNT(WRITTEN));
	tcase_add_test(all, columns_of_a_text_add_up);
	tcase_add_test(all, a_wider_text_measures_wider);
	suite_add_tcase(suite, all);
	return suite;
}
