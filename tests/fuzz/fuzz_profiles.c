/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tool that turns profiles/ into C: the first byte chooses the file that the rest stands in
 * for; the tool makes both tables or refuses. */
#include <string.h>
#include <unistd.h>

#include "fuzz.h"
#include "rig/pack.h"

static const char *const FILES[] = {
	"appliances", "chemistries", "conductors", "panels", "ratings", "supplies", "places"};
enum { N_FILES = sizeof FILES / sizeof FILES[0] };
static char folder[] = "/tmp/rig-fuzz-XXXXXX";

static void link_all(void)
{
	char from[4096];
	char to[4096];
	for (size_t i = 0; i < N_FILES; i++) {
		(void)snprintf(from, sizeof from, "%s/profiles/%s.json", RIG_SOURCE_DIR, FILES[i]);
		(void)snprintf(to, sizeof to, "%s/%s.json", folder, FILES[i]);
		(void)unlink(to);
		MUST(symlink(from, to) == 0);
	}
}

static void clean_up(void)
{
	char path[4096];
	for (size_t i = 0; i < N_FILES; i++) {
		(void)snprintf(path, sizeof path, "%s/%s.json", folder, FILES[i]);
		(void)unlink(path);
	}
	(void)snprintf(path, sizeof path, "%s/profile_tables.c", folder);
	(void)unlink(path);
	(void)snprintf(path, sizeof path, "%s/place_tables.c", folder);
	(void)unlink(path);
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
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
	char path[4096];
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
