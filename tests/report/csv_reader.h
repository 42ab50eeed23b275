/* SPDX-License-Identifier: GPL-3.0-or-later */
/* csv_reader.h: reads comma-separated values by the grammar of [RFC-4180], section 2, and accepts
 * nothing else: the other side of what the writer writes. */
#ifndef TEST_CSV_READER_H
#define TEST_CSV_READER_H

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

enum { CSV_MOST_CELLS = 40000 };

typedef struct {
	char *text; /* the cells' own copy */
	size_t n_columns, n_rows, n_cells;
	char *cells[CSV_MOST_CELLS];
	const char *fault; /* NULL when all was read */
} csv_sheet;

/* Reads one field at *at, writes it from *out on; moves both past it. */
static inline const char *csv_field(const char **at, char **out)
{
	const char *from = *at;
	if (*from != '"') {
		while (*from != '\0' && strchr(",\r\n", *from) == NULL) {
			if (*from == '"')
				return "a quote inside a field that has none around it";
			*(*out)++ = *from++;
		}
		*at = from;
		return NULL;
	}
	for (from++; !(from[0] == '"' && from[1] != '"'); from++) {
		if (*from == '\0')
			return "a field that does not end";
		if (*from == '"')
			from++;
		*(*out)++ = *from;
	}
	*at = from + 1;
	return NULL;
}

static inline void csv_free(csv_sheet *sheet)
{
	free(sheet->text);
	free(sheet);
}

static inline csv_sheet *csv_read(const char *text)
{
	csv_sheet *sheet = calloc(1, sizeof *sheet);
	char *out = sheet->text = malloc(strlen(text) + CSV_MOST_CELLS);
	size_t in_row = 0;
	while (*text != '\0' && sheet->fault == NULL) {
		if (sheet->n_cells == CSV_MOST_CELLS) {
			sheet->fault = "more cells than this reader holds";
			break;
		}
		sheet->cells[sheet->n_cells++] = out;
		sheet->fault = csv_field(&text, &out);
		*out++ = '\0';
		in_row++;
		if (sheet->fault != NULL)
			break;
		if (*text == ',') {
			text++;
			continue;
		}
		if (text[0] != '\r' || text[1] != '\n') {
			sheet->fault = "a line that does not end in CR LF";
			break;
		}
		text += 2;
		if (sheet->n_rows == 0)
			sheet->n_columns = in_row;
		else if (in_row != sheet->n_columns)
			sheet->fault = "a row with more or fewer fields than the first";
		sheet->n_rows++;
		in_row = 0;
	}
	return sheet;
}

static inline const char *csv_cell(const csv_sheet *sheet, size_t row, size_t column)
{
	return sheet->cells[row * sheet->n_columns + column];
}

#endif
