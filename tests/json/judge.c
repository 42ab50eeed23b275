/* SPDX-License-Identifier: GPL-3.0-or-later */
/* judge FILE ...: what the strict JSON reader and then the reader of rig files say of each file, a
 * line each: `right` or `wrong`, the place of the fault (0:0 for none) and what it is; then the
 * place at which the rig reader refuses it. */
#include <stdio.h>
#include <stdlib.h>

#include "base/buffer.h"
#include "base/json.h"
#include "rigbudget/coach.h"
#include "rigbudget/diag.h"

static rig_buffer bytes_of(const char *path)
{
	rig_buffer buffer = {0};
	char step[4096];
	FILE *file = fopen(path, "rb");
	if (file == NULL) {
		fprintf(stderr, "judge: %s cannot be opened\n", path);
		exit(EXIT_FAILURE);
	}
	rig_buffer_add(&buffer, "");
	for (size_t n; (n = fread(step, 1, sizeof step, file)) > 0;)
		rig_buffer_add_bytes(&buffer, step, n);
	fclose(file);
	return buffer;
}

static const rig_diag NOTHING = {.what = "nothing"};

static const rig_diag *first_of(rig_diags *diags)
{
	return rig_diags_count(diags) > 0 ? rig_diags_at(diags, 0) : &NOTHING;
}

static void judge(const char *path)
{
	rig_buffer text = bytes_of(path);
	rig_diags *diags = rig_diags_new(), *rig = rig_diags_new();
	rig_json *json = NULL;
	rig_file *file = NULL;
	const rig_status parsed = rig_json_read(text.text, text.length, diags, &json);
	const rig_status read = rig_file_parse(text.text, text.length, rig, &file);
	const rig_diag *fault = first_of(diags), *refusal = first_of(rig);
	printf("%s %zu:%zu %s | %s %zu:%zu\n", parsed == RIG_OK ? "right" : "wrong",
		fault->where.line, fault->where.column, fault->what,
		read == RIG_OK ? "read" : "refused", refusal->where.line, refusal->where.column);
	rig_file_free(file);
	rig_json_free(json);
	rig_diags_free(rig);
	rig_diags_free(diags);
	rig_buffer_free(&text);
}

int main(int argc, char **argv)
{
	for (int i = 1; i < argc; i++)
		judge(argv[i]);
	return EXIT_SUCCESS;
}
