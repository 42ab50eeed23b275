/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "csv.h"

#include <ctype.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "glyph.h"

static size_t digits(const char *text)
{
	size_t n = 0;
	while (isdigit((unsigned char)text[n]))
		n++;
	return n;
}

/* A sign or none; digits, or one to three of them and groups of three; a fraction or none. */
size_t rig_csv_number_length(const char *text)
{
	const size_t sign = *text == '-' || *text == '+' ? 1 : 0;
	size_t n = sign + digits(text + sign);
	if (n == sign)
		return 0;
	while (n - sign >= 1 && text[n] == ',' && digits(text + n + 1) == 3)
		n += 4;
	if (text[n] == '.' && digits(text + n + 1) > 0)
		n += 1 + digits(text + n + 1);
	return n;
}

static void begin_cell(rig_csv *csv)
{
	if (csv->n++ > 0)
		rig_buffer_add(&csv->out, ",");
}

static bool is_formula(const char *text)
{
	text += strspn(text, " ");
	return *text != '\0' && strchr("=+-@", *text) != NULL;
}

static void add_quoted(rig_csv *csv, const char *text)
{
	rig_buffer_add(&csv->out, "\"");
	for (; *text != '\0'; text++)
		rig_buffer_add_bytes(&csv->out, *text == '"' ? "\"\"" : text, *text == '"' ? 2 : 1);
	rig_buffer_add(&csv->out, "\"");
}

static void add_number(rig_csv *csv, const char *text)
{
	for (; *text != '\0'; text++) {
		if (*text != ',' && *text != '+')
			rig_buffer_add_bytes(&csv->out, text, 1);
	}
}

void rig_csv_text(rig_csv *csv, const char *text)
{
	begin_cell(csv);
	const size_t length = rig_csv_number_length(text);
	if (length > 0 && text[length] == '\0') {
		add_number(csv, text);
		return;
	}
	rig_buffer shown = {0};
	rig_buffer_add(&shown, is_formula(text) ? "'" : "");
	rig_glyph_show(&shown, text);
	if (shown.failed)
		csv->out.failed = true;
	else if (strpbrk(shown.text, ",\"\r\n") != NULL)
		add_quoted(csv, shown.text);
	else
		rig_buffer_add(&csv->out, shown.text);
	rig_buffer_free(&shown);
}

void rig_csv_head(rig_csv *csv, const char *head, const char *unit)
{
	rig_buffer whole = {0};
	rig_buffer_add(&whole, head);
	if (unit[0] != '\0')
		rig_buffer_format(&whole, " (%s)", unit);
	if (whole.failed)
		csv->out.failed = true;
	else
		rig_csv_text(csv, whole.text);
	rig_buffer_free(&whole);
}

void rig_csv_number(rig_csv *csv, double value)
{
	char nine[40]; /* written and read again, whatever the locale */
	snprintf(nine, sizeof nine, "%.9g", value);
	begin_cell(csv);
	rig_buffer_exact(&csv->out, strtod(nine, NULL));
}

void rig_csv_end_row(rig_csv *csv)
{
	rig_buffer_add(&csv->out, "\r\n");
	csv->n = 0;
}
