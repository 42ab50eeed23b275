/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rows.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "suites.h"

static const char SEPARATOR[] = " | ";

rows rows_open(const char *path)
{
	char whole[512];
	snprintf(whole, sizeof whole, "%s/tests/%s", RIG_SOURCE_DIR, path);
	FILE *file = fopen(whole, "rb");
	ck_assert_msg(file != NULL, "%s cannot be opened", whole);
	rows made = {0};
	char step[4096];
	size_t got;
	while ((got = fread(step, 1, sizeof step, file)) > 0)
		rig_buffer_add_bytes(&made.text, step, got);
	fclose(file);
	made.next = made.text.text;
	return made;
}

static void split(rows *it, char *line, int n_fields)
{
	for (int i = 0; i < n_fields; i++) {
		it->field[i] = line;
		char *end = i + 1 < n_fields ? strstr(line, SEPARATOR) : NULL;
		ck_assert_msg(end != NULL || i + 1 == n_fields, "too few fields: %s", line);
		if (end == NULL)
			return;
		*end = '\0';
		line = end + strlen(SEPARATOR);
	}
}

bool rows_next(rows *it, int n_fields)
{
	while (*it->next != '\0') {
		char *line = it->next;
		char *end = strchr(line, '\n');
		ck_assert_msg(end != NULL, "the last line has no end");
		*end = '\0';
		it->next = end + 1;
		it->line++;
		if (*line == '\0' || *line == '#')
			continue;
		split(it, line, n_fields);
		return true;
	}
	return false;
}

void rows_close(rows *it)
{
	rig_buffer_free(&it->text);
}

size_t rows_bytes(char *text)
{
	char *to = text;
	for (const char *from = text; *from != '\0'; from++) {
		if (*from != '%') {
			*to++ = *from;
		} else if (isxdigit((unsigned char)from[1]) && isxdigit((unsigned char)from[2])) {
			const char digits[] = {from[1], from[2], '\0'};
			*to++ = (char)strtol(digits, NULL, 16);
			from += 2;
		}
	}
	*to = '\0';
	return (size_t)(to - text);
}
