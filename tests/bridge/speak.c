/* SPDX-License-Identifier: GPL-3.0-or-later */
/* speak.c: the page's bridge on this machine: requests from standard input, one a line, responses
 * to standard output, each ended by a NUL. */
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "page/bridge.h"

enum { MAX_REQUEST = 8 * 1024 * 1024 };

static bool answer(const char *request)
{
	const size_t n = strlen(request);
	char *room = rig_page_alloc(n + 1);
	if (room == NULL)
		return false;
	memcpy(room, request, n + 1);
	char *response = rig_page_call(room, n);
	rig_page_release(room);
	if (response == NULL)
		return false;
	fwrite(response, 1, strlen(response) + 1, stdout);
	rig_page_release(response);
	return true;
}

int main(void)
{
	char *request = malloc(MAX_REQUEST);
	bool fine = request != NULL;
	while (fine && fgets(request, MAX_REQUEST, stdin) != NULL)
		fine = answer(request);
	free(request);
	return fine && !ferror(stdout) ? EXIT_SUCCESS : EXIT_FAILURE;
}
