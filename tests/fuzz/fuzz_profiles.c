/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tool that turns profiles/ into C: the first byte chooses the file that the rest stands in
 * for; the tool makes both tables or refuses. */
#include <stdbool.h>
#include <string.h>
#include <unistd.h>

#include "fuzz.h"
#include "rig/pack.h"

static const char *const FILES[] = {
	"appliances", "chemistries", "conductors", "panels", "ratings", "supplies", "places"};
enum { N_FILES = sizeof FILES / sizeof FILES[0] };
enum { ROOM = 4096, N_FEW = 3 };
static char folder[] = "/tmp/rig-fuzz-XXXXXX";

/* All files but places.json, which is large, stand there as they are. */
static void link_all(void)
{
	char from[ROOM];
	char to[ROOM];
	for (size_t i = 0; i < N_FILES; i++) {
		const bool is_long = strcmp(FILES[i], "places") == 0;
		(void)snprintf(from, sizeof from, "%s/%s%s.json",
			is_long ? folder : RIG_SOURCE_DIR "/profiles", FILES[i],
			is_long ? "-few" : "");
		(void)snprintf(to, sizeof to, "%s/%s.json", folder, FILES[i]);
		(void)unlink(to);
		MUST(symlink(from, to) == 0);
	}
}

/* places.json with its first places only: each of them is a line of its own. */
static void shorten_places(void)
{
	char path[ROOM];
	char line[ROOM];
	int n_left = N_FEW;
	FILE *from = fopen(RIG_SOURCE_DIR "/profiles/places.json", "r");
	(void)snprintf(path, sizeof path, "%s/places-few.json", folder);
	FILE *to = fopen(path, "w");
	MUST(from != NULL && to != NULL);
	while (n_left > 0 && fgets(line, sizeof line, from) != NULL) {
		n_left -= strncmp(line, "\t\t{", 3) == 0;
		if (n_left == 0)
			line[strlen(line) - strlen(",\n")] = '\0';
		MUST(fputs(line, to) >= 0);
	}
	MUST(n_left == 0 && fputs("\n\t]\n}\n", to) >= 0);
	MUST(fclose(to) == 0 && fclose(from) == 0);
}

static void clean_up(void)
{
	char path[ROOM];
	for (size_t i = 0; i < N_FILES; i++) {
		(void)snprintf(path, sizeof path, "%s/%s.json", folder, FILES[i]);
		(void)unlink(path);
	}
	static const char *const OTHERS[] = {
		"places-few.json", "profile_tables.c", "place_tables.c"};
	for (size_t i = 0; i < sizeof OTHERS / sizeof OTHERS[0]; i++) {
		(void)snprintf(path, sizeof path, "%s/%s", folder, OTHERS[i]);
		(void)unlink(path);
	}
	(void)rmdir(folder);
}

static void begin(void)
{
	static int begun;
	if (begun)
		return;
	begun = 1;
	MUST(mkdtemp(folder) != NULL);
	(void)atexit(clean_up);
	shorten_places();
	link_all();
	MUST(pack_all(folder, folder)); /* else no change of a file would show anything */
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
	char path[ROOM];
	if (size == 0)
		return 0;
	begin();
	link_all();
	(void)snprintf(path, sizeof path, "%s/%s.json", folder, FILES[bytes[0] % N_FILES]);
	(void)unlink(path);
	FILE *file = fopen(path, "wb");
	MUST(file != NULL && fwrite(bytes + 1, 1, size - 1, file) == size - 1);
	MUST(fclose(file) == 0);
	(void)pack_all(folder, folder);
	return 0;
}
