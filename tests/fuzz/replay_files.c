/* SPDX-License-Identifier: GPL-3.0-or-later */
/* replay_files.c: runs a target over the files that are named, and all in the folders that are
 * named. */
#include <dirent.h>
#include <string.h>
#include <sys/stat.h>

#include "fuzz.h"

static unsigned long n_inputs;

static void replay_file(const char *path)
{
	FILE *file = fopen(path, "rb");
	MUST(file != NULL);
	struct stat about;
	MUST(fstat(fileno(file), &about) == 0);
	const size_t size = (size_t)about.st_size;
	/* exactly as large as the input, so that the sanitizers see a step beyond it */
	uint8_t *bytes = malloc(size > 0 ? size : 1);
	MUST(bytes != NULL);
	MUST(fread(bytes, 1, size, file) == size);
	MUST(fclose(file) == 0);
	(void)LLVMFuzzerTestOneInput(bytes, size);
	free(bytes);
	n_inputs++;
}

static void replay(const char *path)
{
	struct stat about;
	MUST(stat(path, &about) == 0);
	if (!S_ISDIR(about.st_mode)) {
		replay_file(path);
		return;
	}
	DIR *folder = opendir(path);
	MUST(folder != NULL);
	for (const struct dirent *entry = readdir(folder); entry != NULL; entry = readdir(folder)) {
		char inner[4096];
		if (entry->d_name[0] == '.')
			continue;
		(void)snprintf(inner, sizeof inner, "%s/%s", path, entry->d_name);
		replay(inner);
	}
	MUST(closedir(folder) == 0);
}

int main(int argc, char **argv)
{
	for (int i = 1; i < argc; i++)
		replay(argv[i]);
	printf("%lu inputs\n", n_inputs);
	return n_inputs > 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
