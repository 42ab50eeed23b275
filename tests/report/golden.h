/* SPDX-License-Identifier: GPL-3.0-or-later */
/* golden.h: files of the source tree, and outputs that were reviewed once and must not change. */
#ifndef TEST_GOLDEN_H
#define TEST_GOLDEN_H

#include <check.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/buffer.h"

/* The whole of a file of the source tree; NULL if there is none. Free it. */
static inline char *file_of_tree(const char *name)
{
	char path[512];
	snprintf(path, sizeof path, "%s/%s", RIG_SOURCE_DIR, name);
	FILE *file = fopen(path, "rb");
	if (file == NULL)
		return NULL;
	rig_buffer buffer = {0};
	char bytes[4096];
	for (size_t n; (n = fread(bytes, 1, sizeof bytes, file)) > 0;)
		rig_buffer_add_bytes(&buffer, bytes, n);
	fclose(file);
	return buffer.text;
}

/* Compares with tests/report/golden/name byte for byte. With RIG_WRITE_GOLDEN set it writes the
 * file instead, for review in the difference. */
static inline void check_golden(const char *name, const char *text)
{
	char path[256];
	snprintf(path, sizeof path, "tests/report/golden/%s", name);
	if (getenv("RIG_WRITE_GOLDEN") != NULL) {
		char whole[512];
		snprintf(whole, sizeof whole, "%s/%s", RIG_SOURCE_DIR, path);
		FILE *file = fopen(whole, "wb");
		ck_assert_ptr_nonnull(file);
		fputs(text, file);
		fclose(file);
		return;
	}
	char *expected = file_of_tree(path);
	ck_assert_msg(expected != NULL, "%s is missing", path);
	size_t same = 0;
	while (text[same] != '\0' && text[same] == expected[same])
		same++;
	/* the whole of both would be too long a message */
	ck_assert_msg(text[same] == expected[same],
		"%s differs at byte %zu: \"%.60s\", was \"%.60s\"", path, same, text + same,
		expected + same);
	free(expected);
}

#endif
