/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/folder.h"

#include "csv_reader.h"
#include "handmade.h"
#include "report/filing.h"
#include "suites.h"
#include "wellformed.h"

static const rig_folder_file *file_named(const rig_folder *folder, const char *name)
{
	for (size_t i = 0; i < rig_folder_n_files(folder); i++) {
		if (strcmp(rig_folder_file_at(folder, i)->name, name) == 0)
			return rig_folder_file_at(folder, i);
	}
	ck_abort_msg("there is no file %s", name);
	return NULL;
}

static rig_folder *tables_of(const char *name)
{
	rig_document *document = handmade(name);
	rig_folder *folder = NULL;
	ck_assert_int_eq(rig_document_csv(document, &folder), RIG_OK);
	rig_document_free(document);
	return folder;
}

static csv_sheet *sheet_named(const rig_folder *folder, const char *name)
{
	csv_sheet *sheet = csv_read(file_named(folder, name)->text);
	ck_assert_msg(sheet->fault == NULL, "%s: %s", name, sheet->fault);
	return sheet;
}

/* Facts, a table and five charts, and the index. */
START_TEST(every_table_and_chart_has_its_file)
{
	rig_folder *folder = tables_of("Water heater");
	ck_assert_uint_eq(rig_folder_n_files(folder), 8);
	ck_assert_str_eq(rig_folder_file_at(folder, 7)->name, "index.csv");
	csv_sheet *index = sheet_named(folder, "index.csv");
	ck_assert_uint_eq(index->n_rows, 8);
	for (size_t i = 1; i < index->n_rows; i++)
		file_named(folder, csv_cell(index, i, 0));
	csv_free(index);
	rig_folder_free(folder);
}
END_TEST

/* The figures are those that handmade.h puts in. */
START_TEST(every_point_of_a_chart_is_read_back)
{
	rig_folder *folder = tables_of("Water heater");
	csv_sheet *course = sheet_named(folder, "charge-through-the-days.csv");
	ck_assert_uint_eq(course->n_rows, 1 + 4 + 2);
	ck_assert_str_eq(csv_cell(course, 0, 1), "days");
	ck_assert_str_eq(csv_cell(course, 0, 2), "state of charge (%)");
	ck_assert_str_eq(csv_cell(course, 4, 0), "Water heater");
	ck_assert_double_eq(strtod(csv_cell(course, 4, 1), NULL), 3);
	ck_assert_double_eq(strtod(csv_cell(course, 4, 2), NULL), 40);
	ck_assert_double_eq(strtod(csv_cell(course, 4, 3), NULL), 20);
	ck_assert_double_eq(strtod(csv_cell(course, 4, 4), NULL), 60);
	csv_free(course);
	csv_sheet *lanes = sheet_named(folder, "what-runs.csv");
	ck_assert_uint_eq(lanes->n_rows, 1 + 6);
	ck_assert_str_eq(csv_cell(lanes, 4, 1), "runs");
	ck_assert_double_eq(strtod(csv_cell(lanes, 4, 2), NULL), 20);
	ck_assert_double_eq(strtod(csv_cell(lanes, 4, 3), NULL), 20.5);
	csv_free(lanes);
	csv_sheet *months = sheet_named(folder, "harvest-by-month.csv");
	ck_assert_uint_eq(months->n_rows, 1 + 12 + 12);
	ck_assert_str_eq(csv_cell(months, 6, 1), "Jun");
	ck_assert_double_eq(strtod(csv_cell(months, 6, 2), NULL), 170);
	ck_assert_double_eq(strtod(csv_cell(months, 6, 3), NULL), 127.5);
	ck_assert_double_eq(strtod(csv_cell(months, 18, 4), NULL), 110);
	csv_free(months);
	csv_sheet *limits = sheet_named(folder, "amps-against-the-limit.csv");
	ck_assert_str_eq(csv_cell(limits, 2, 0), "Water heater");
	ck_assert_double_eq(strtod(csv_cell(limits, 2, 5), NULL), 30);
	ck_assert_str_eq(csv_cell(limits, 2, 6), "too much");
	csv_free(limits);
	rig_folder_free(folder);
}
END_TEST

START_TEST(a_range_becomes_columns_of_numbers)
{
	static const char *const CELLS[] = {"Refrigerator", "1,800 (930 to 3,200)",
		"about 3 (1 to 5)", "Lamp", "68", "4", "Fan", "", "5"};
	const rig_column columns[] = {{"load", "", RIG_ALIGN_LEFT},
		{"a day", "Wh", RIG_ALIGN_RIGHT}, {"words", "", RIG_ALIGN_LEFT}};
	const rig_table table = {"Use", 3, 3, columns, CELLS};
	rig_document *document = rig_document_new();
	rig_add_table(document, &table);
	rig_folder *folder = NULL;
	ck_assert_int_eq(rig_document_csv(document, &folder), RIG_OK);
	ck_assert_str_eq(file_named(folder, "use.csv")->text,
		"load,a day (Wh),\"a day, low (Wh)\",\"a day, high (Wh)\",words\r\n"
		"Refrigerator,1800,930,3200,about 3 (1 to 5)\r\nLamp,68,68,68,4\r\nFan,,,,5\r\n");
	rig_folder_free(folder);
	rig_document_free(document);
}
END_TEST

/* _i: a name that tries to break out. */
START_TEST(names_stay_in_their_cells_and_out_of_paths)
{
	rig_folder *folder = tables_of(HOSTILE[_i]);
	for (size_t i = 0; i < rig_folder_n_files(folder); i++) {
		const rig_folder_file *file = rig_folder_file_at(folder, i);
		csv_sheet *sheet = csv_read(file->text);
		ck_assert_msg(sheet->fault == NULL, "%s: %s", file->name, sheet->fault);
		csv_free(sheet);
		ck_assert_uint_eq(strlen(file->text), file->length);
		ck_assert_uint_eq(strspn(file->name, "abcdefghijklmnopqrstuvwxyz0123456789-."),
			strlen(file->name));
		ck_assert_uint_le(strlen(file->name), 64);
		ck_assert_ptr_eq(strchr(file->name, '.'), file->name + strlen(file->name) - 4);
		for (size_t j = 0; j < i; j++)
			ck_assert_str_ne(rig_folder_file_at(folder, j)->name, file->name);
	}
	rig_folder_free(folder);
}
END_TEST

START_TEST(each_chart_is_a_picture_that_stands_alone)
{
	rig_document *document = handmade(HOSTILE[_i]);
	rig_folder *folder = NULL;
	ck_assert_int_eq(rig_document_svg(document, &folder), RIG_OK);
	ck_assert_uint_eq(rig_folder_n_files(folder), 5);
	tag_stack stack;
	for (size_t i = 0; i < 5; i++) {
		const rig_folder_file *file = rig_folder_file_at(folder, i);
		const char *wrong = page_fault(file->text, &stack);
		ck_assert_msg(wrong == NULL, "%s: %s", file->name, wrong);
		ck_assert_ptr_nonnull(strstr(file->text, " width=\"704.0\""));
		ck_assert_ptr_nonnull(strstr(file->text, "fill=\"#"));
	}
	rig_folder_free(folder);
	rig_document_free(document);
}
END_TEST

START_TEST(a_document_that_failed_gives_no_folder)
{
	rig_document *document = rig_document_new();
	rig_document_fail(document, RIG_BAD_INPUT);
	rig_folder *folder = NULL;
	ck_assert_int_eq(rig_document_csv(document, &folder), RIG_BAD_INPUT);
	ck_assert_int_eq(rig_document_svg(document, &folder), RIG_BAD_INPUT);
	ck_assert_ptr_null(folder);
	rig_document_free(document);
	rig_folder_free(folder);
}
END_TEST

Suite *folder_suite(void);
Suite *folder_suite(void)
{
	Suite *suite = suite_create("folder");
	TCase *all = tcase_create("all");
	tcase_add_test(all, every_table_and_chart_has_its_file);
	tcase_add_test(all, every_point_of_a_chart_is_read_back);
	tcase_add_test(all, a_range_becomes_columns_of_numbers);
	tcase_add_loop_test(all, names_stay_in_their_cells_and_out_of_paths, 0, N_HOSTILE);
	tcase_add_loop_test(all, each_chart_is_a_picture_that_stands_alone, 0, N_HOSTILE);
	tcase_add_test(all, a_document_that_failed_gives_no_folder);
	suite_add_tcase(suite, all);
	return suite;
}
