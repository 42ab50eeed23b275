/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/buffer.h"
#include "base/file.h"
#include "rigbudget/coach.h"
#include "suites.h"

#define HEAD "{\"format\": \"rigbudget/1\", \"name\": \"Test\", \"shore\": {\"cord_a\": 50},"

enum { MAX_CASES = 300, MAX_EXPECTED = 8, FILE_LIMIT = 1 << 20 };

/* One case of cases/rig/faults.txt. */
typedef struct {
	char name[128];
	size_t n;
	struct {
		char path[128], says[128], mend[128];
		size_t line, column;
	} expected[MAX_EXPECTED];
	rig_buffer file;
} fault_case;

static fault_case cases[MAX_CASES];
static size_t n_cases;

static void must(bool holds, const char *what, const char *name)
{
	if (holds)
		return;
	fprintf(stderr, "faults.txt: %s: %s\n", name, what);
	abort();
}

/* Cuts the next line off; NULL at the end. */
static char *next_line(char **rest)
{
	char *line = *rest;
	if (line == NULL || *line == '\0')
		return NULL;
	char *end = strchr(line, '\n');
	if (end != NULL)
		*end = '\0';
	*rest = end == NULL ? NULL : end + 1;
	return line;
}

/* The rest of a line after its word, if it starts with it. */
static bool after_word(const char *line, const char *word, char *into, size_t room)
{
	const size_t length = strlen(word);
	if (strncmp(line, word, length) != 0 || (line[length] != ' ' && line[length] != '\0'))
		return false;
	snprintf(into, room, "%s", line[length] == '\0' ? "" : line + length + 1);
	return true;
}

/* A line of a case's file, its marks turned into places. */
static void add_line(fault_case *to, const char *text, size_t line, size_t *marks)
{
	size_t column = 1;
	for (const char *at = text; *at != '\0'; at++) {
		if (*at == '^') {
			must(*marks < MAX_EXPECTED, "too many marks", to->name);
			to->expected[*marks].line = line;
			to->expected[(*marks)++].column = column;
			continue;
		}
		column += ((unsigned char)*at & 0xC0) != 0x80;
		rig_buffer_add_bytes(&to->file, at, 1);
	}
	rig_buffer_add(&to->file, "\n");
}

static void read_case(fault_case *to, char **rest)
{
	size_t line = 0, marks = 0;
	for (char *text = next_line(rest); text != NULL; text = next_line(rest)) {
		char word[128];
		if (strcmp(text, ".") == 0)
			break;
		if (line == 0 && after_word(text, "path", word, sizeof word)) {
			must(to->n < MAX_EXPECTED, "too many paths", to->name);
			memcpy(to->expected[to->n++].path, word, sizeof word);
		} else if (line == 0 && after_word(text, "says", word, sizeof word)) {
			memcpy(to->expected[to->n - 1].says, word, sizeof word);
		} else if (line == 0 && after_word(text, "mend", word, sizeof word)) {
			memcpy(to->expected[to->n - 1].mend, word, sizeof word);
		} else {
			add_line(to, strcmp(text, "@") == 0 ? HEAD : text, ++line, &marks);
		}
	}
	must(marks == to->n && to->n > 0, "not a mark for each path", to->name);
}

static void read_cases(void)
{
	rig_buffer text = {0};
	rig_diags *diags = rig_diags_new();
	must(rig_file_read(RIG_SOURCE_DIR "/tests/cases/rig/faults.txt", FILE_LIMIT, &text,
		     diags) == RIG_OK,
		"cannot be read", "all");
	char *rest = text.text;
	for (char *line = next_line(&rest); line != NULL; line = next_line(&rest)) {
		char name[128];
		if (!after_word(line, "case", name, sizeof name))
			continue;
		must(n_cases < MAX_CASES, "too many cases", name);
		memcpy(cases[n_cases].name, name, sizeof name);
		read_case(&cases[n_cases++], &rest);
	}
	rig_buffer_free(&text);
	rig_diags_free(diags);
}

static rig_file *parse(const char *text, rig_diags *diags)
{
	rig_file *file = NULL;
	const rig_status status = rig_file_parse(text, strlen(text), diags, &file);
	ck_assert_int_eq(status == RIG_OK, file != NULL);
	ck_assert_int_eq(status == RIG_OK, rig_diags_faults(diags) == 0);
	return file;
}

static void print_all(const char *name, rig_diags *diags)
{
	for (size_t i = 0; i < rig_diags_count(diags); i++) {
		const rig_diag *at = rig_diags_at(diags, i);
		fprintf(stderr, "%s: %zu:%zu %s: %s | %s | %s | %s\n", name, at->where.line,
			at->where.column, at->where.path, at->what, at->found, at->allowed,
			at->mend);
	}
}

START_TEST(each_faulty_file_is_told_each_fault_once_and_where)
{
	const fault_case *of = &cases[_i];
	rig_diags *diags = rig_diags_new();
	rig_file *file = parse(of->file.text, diags);
	if (rig_diags_count(diags) != of->n)
		print_all(of->name, diags);
	ck_assert_msg(file == NULL, "%s: read without a fault", of->name);
	ck_assert_msg(rig_diags_count(diags) == of->n, "%s: %zu sayings, not %zu", of->name,
		rig_diags_count(diags), of->n);
	for (size_t i = 0; i < of->n; i++) {
		const rig_diag *at = rig_diags_at(diags, i);
		ck_assert_msg(at->severity == RIG_FAULT, "%s: a remark", of->name);
		ck_assert_msg(strcmp(at->where.path, of->expected[i].path) == 0, "%s: path %s",
			of->name, at->where.path);
		ck_assert_msg(at->where.line == of->expected[i].line &&
				      at->where.column == of->expected[i].column,
			"%s: at %zu:%zu, not %zu:%zu", of->name, at->where.line, at->where.column,
			of->expected[i].line, of->expected[i].column);
		ck_assert_msg(strstr(at->what, of->expected[i].says) != NULL, "%s: says %s",
			of->name, at->what);
		ck_assert_msg(strstr(at->mend, of->expected[i].mend) != NULL, "%s: mend %s",
			of->name, at->mend);
	}
	rig_diags_free(diags);
}
END_TEST

/* Of every place that is told, something is allowed or there is a mend. */
START_TEST(no_fault_is_told_without_a_way_out)
{
	rig_diags *diags = rig_diags_new();
	parse(cases[_i].file.text, diags);
	for (size_t i = 0; i < rig_diags_count(diags); i++) {
		const rig_diag *at = rig_diags_at(diags, i);
		ck_assert_str_ne(at->what, "");
		ck_assert_str_ne(at->mend, "");
		ck_assert_int_ne(at->what[strlen(at->what) - 1], '.');
	}
	rig_diags_free(diags);
}
END_TEST

/* A list of n items, each made of the format and its number, after a head. */
static void add_items(rig_buffer *text, const char *key, const char *before, int n)
{
	rig_buffer_format(text, "\"%s\": [", key);
	for (int i = 0; i < n; i++)
		rig_buffer_format(text, "%s%s%d\"}", i == 0 ? "" : ",\n", before, i);
	rig_buffer_add(text, "]");
}

static const struct {
	const char *key, *item;
	int most;
} LIMITS[] = {
	{"circuits", "{\"id\": \"c", 500},
	{"loads", "{\"running_w\": 5, \"id\": \"l", 2000},
	{"banks", "{\"chemistry\": \"agm\", \"capacity_ah\": 9, \"id\": \"b", 500},
	{"habits", "{\"name\": \"h", 500},
	{"wires", "{\"id\": \"w", 500},
};

START_TEST(lists_are_read_up_to_their_limit)
{
	for (int more = 0; more < 2; more++) {
		rig_buffer text = {0};
		rig_diags *diags = rig_diags_new();
		rig_buffer_add(&text, HEAD);
		add_items(&text, LIMITS[_i].key, LIMITS[_i].item, LIMITS[_i].most + more);
		rig_buffer_add(&text, "}");
		rig_file *file = parse(text.text, diags);
		ck_assert_int_eq(file != NULL, more == 0);
		ck_assert_uint_eq(rig_diags_faults(diags), (size_t)more);
		if (more == 1) {
			char most[32];
			snprintf(most, sizeof most, "at most %d", LIMITS[_i].most);
			ck_assert_str_eq(rig_diags_at(diags, 0)->allowed, most);
			ck_assert_str_eq(rig_diags_at(diags, 0)->where.path, LIMITS[_i].key);
		}
		rig_file_free(file);
		rig_diags_free(diags);
		rig_buffer_free(&text);
	}
}
END_TEST

START_TEST(texts_are_read_up_to_4096_bytes)
{
	static const int LENGTHS[] = {4096, 4097, 10000};
	for (int i = 0; i < 3; i++) {
		rig_buffer text = {0};
		rig_diags *diags = rig_diags_new();
		rig_buffer_add(&text,
			"{\"format\": \"rigbudget/1\", \"shore\": {\"cord_a\": 30}, \"name\": \"");
		for (int j = 0; j < LENGTHS[i]; j++)
			rig_buffer_add(&text, "x");
		rig_buffer_add(&text, "\"}");
		rig_file *file = parse(text.text, diags);
		ck_assert_int_eq(file != NULL, LENGTHS[i] <= 4096);
		if (file == NULL) {
			ck_assert_uint_eq(rig_diags_count(diags), 1);
			ck_assert_str_eq(rig_diags_at(diags, 0)->allowed, "at most 4096 bytes");
		}
		rig_file_free(file);
		rig_diags_free(diags);
		rig_buffer_free(&text);
	}
}
END_TEST

START_TEST(nobody_need_listen_to_the_faults)
{
	static const char RIGHT[] = HEAD "\"loads\": []}", WRONG[] = HEAD "\"lods\": []}";
	rig_file *file = NULL;
	ck_assert_int_eq(rig_file_parse(WRONG, sizeof WRONG - 1, NULL, &file), RIG_BAD_INPUT);
	ck_assert_ptr_null(file);
	ck_assert_int_eq(rig_file_parse(RIGHT, sizeof RIGHT - 1, NULL, &file), RIG_OK);
	rig_file_free(file);
}
END_TEST

START_TEST(an_id_of_64_characters_is_read)
{
	rig_diags *diags = rig_diags_new();
	rig_file *file = parse(HEAD
		"\"circuits\": [{\"id\": "
		"\"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_\"}]}",
		diags);
	ck_assert_ptr_nonnull(file);
	rig_file_free(file);
	rig_diags_free(diags);
}
END_TEST

/* 200 faults: 100 are kept, all are counted. */
START_TEST(faults_past_the_limit_are_counted)
{
	rig_buffer text = {0};
	rig_diags *diags = rig_diags_new();
	rig_buffer_add(&text, HEAD);
	add_items(&text, "loads", "{\"running_w\": -1, \"id\": \"l", 200);
	rig_buffer_add(&text, "}");
	ck_assert_ptr_null(parse(text.text, diags));
	ck_assert_uint_eq(rig_diags_count(diags), 100);
	ck_assert_uint_eq(rig_diags_faults(diags), 200);
	ck_assert_str_eq(rig_diags_at(diags, 99)->where.path, "loads[99].running_w");
	rig_diags_free(diags);
	rig_buffer_free(&text);
}
END_TEST

/* Quotes, tags, control characters, right-to-left marks, combining marks, emoji. */
static const char *const NAMES[] = {"\"quoted\"", "<img src=x onerror=alert(1)>", "a\tb\nc",
	"\x1B[31m", "\xE2\x80\xAEtxt.exe", "\xF0\x9F\x9A\x90\xF0\x9F\x94\x8C", "e\xCC\x81",
	"%s%s%n", "", " ", "\xEF\xBF\xBF", "\x7F", "]]>", "&amp;"};

START_TEST(a_name_holds_any_text)
{
	rig_coach made;
	rig_load load;
	rig_coach_clear(&made);
	rig_load_clear(&load);
	made.format = "rigbudget/1";
	made.name = "Test";
	made.cord_a = 15;
	made.loads = &load;
	made.n_loads = 1;
	load.id = "a";
	load.name = NAMES[_i];
	load.notes = NAMES[_i];
	load.running_w = rig_figure_of(5, RIG_FROM_MEASURED);
	load.running_w.source = NAMES[_i];
	char *text = rig_coach_text(&made);
	rig_diags *diags = rig_diags_new();
	rig_file *file = parse(text, diags);
	ck_assert_ptr_nonnull(file);
	const rig_load *read = &rig_file_coach(file)->loads[0];
	ck_assert_str_eq(read->name, NAMES[_i]);
	ck_assert_str_eq(read->notes, NAMES[_i]);
	ck_assert_str_eq(read->running_w.source, NAMES[_i]);
	rig_file_free(file);
	rig_diags_free(diags);
	free(text);
}
END_TEST

START_TEST(a_second_leg_of_a_small_cord_is_remarked)
{
	rig_diags *diags = rig_diags_new();
	rig_file *file = parse(
		"{\"format\": \"rigbudget/1\", \"name\": \"x\", \"shore\": {\"cord_a\": 30},\n"
		"\"circuits\": [{\"id\": \"c\", \"leg\": \"L2\"}]}",
		diags);
	ck_assert_ptr_nonnull(file);
	ck_assert_uint_eq(rig_diags_count(diags), 1);
	ck_assert_int_eq(rig_diags_at(diags, 0)->severity, RIG_REMARK);
	ck_assert_uint_eq(rig_diags_at(diags, 0)->where.line, 2);
	ck_assert_str_eq(rig_diags_at(diags, 0)->where.path, "circuits[0].leg");
	rig_file_free(file);
	rig_diags_free(diags);
}
END_TEST

/* A text that is not JSON is the scanner's to refuse; the reader hands its word on. */
START_TEST(wrong_json_is_refused_with_its_place)
{
	rig_diags *diags = rig_diags_new();
	ck_assert_ptr_null(parse("{\"format\": \"rigbudget/1\",\n \"name\": 'x'}", diags));
	ck_assert_uint_eq(rig_diags_count(diags), 1);
	ck_assert_uint_eq(rig_diags_at(diags, 0)->where.line, 2);
	ck_assert_uint_eq(rig_diags_at(diags, 0)->where.column, 10);
	rig_diags_free(diags);
}
END_TEST

Suite *read_suite(void);
Suite *read_suite(void)
{
	read_cases();
	Suite *suite = suite_create("read");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(
		all, each_faulty_file_is_told_each_fault_once_and_where, 0, (int)n_cases);
	tcase_add_loop_test(all, no_fault_is_told_without_a_way_out, 0, (int)n_cases);
	tcase_add_loop_test(all, lists_are_read_up_to_their_limit, 0, COUNT(LIMITS));
	tcase_add_test(all, texts_are_read_up_to_4096_bytes);
	tcase_add_test(all, nobody_need_listen_to_the_faults);
	tcase_add_test(all, an_id_of_64_characters_is_read);
	tcase_add_test(all, faults_past_the_limit_are_counted);
	tcase_add_loop_test(all, a_name_holds_any_text, 0, COUNT(NAMES));
	tcase_add_test(all, a_second_leg_of_a_small_cord_is_remarked);
	tcase_add_test(all, wrong_json_is_refused_with_its_place);
	suite_add_tcase(suite, all);
	return suite;
}
