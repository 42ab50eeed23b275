/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "read_coach.h"

#include <stdio.h>
#include <stdlib.h>

#include "base/buffer.h"
#include "base/file.h"
#include "suites.h"

static rig_file *parse(const char *text, size_t length)
{
	rig_diags *diags = rig_diags_new();
	rig_file *file = NULL;
	rig_file_parse(text, length, diags, &file);
	for (size_t i = 0; !file && i < rig_diags_count(diags); i++)
		fprintf(stderr, "%s: %s\n", rig_diags_at(diags, i)->where.path,
			rig_diags_at(diags, i)->what);
	rig_diags_free(diags);
	ck_assert_ptr_nonnull(file);
	return file;
}

rig_file *read_coach(const char *shore, const char *rest)
{
	rig_buffer text = {0};
	rig_buffer_format(&text,
		"{\"format\": \"rigbudget/1\", \"name\": \"T\", \"shore\": %s, %s}", shore, rest);
	rig_file *file = parse(text.text, text.length);
	rig_buffer_free(&text);
	return file;
}

rig_file *read_coach_file(const char *path)
{
	rig_buffer text = {0};
	rig_diags *diags = rig_diags_new();
	char whole[512];
	snprintf(whole, sizeof whole, "%s/%s", RIG_SOURCE_DIR, path);
	ck_assert_int_eq(rig_file_read(whole, 1 << 20, &text, diags), RIG_OK);
	rig_file *file = parse(text.text, text.length);
	rig_buffer_free(&text);
	rig_diags_free(diags);
	return file;
}
