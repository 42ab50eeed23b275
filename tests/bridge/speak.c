/* SPDX-License-Identifier: GPL-3.0-or-later */
/* speak.c: the page's bridge on this machine: requests from standard input, one a line, responses
 * to standard output, each ended by a NUL. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "page/bridge.h"

enum { MAX_REQUEST = 8 * 1024 * 1024 };

int main(void)
{
	char *request = malloc(MAX_REQUEST);
	if (request == NULL)
		return EXIT_FAILURE;
	while (fgets(request, MAX_REQUEST, stdin) != NULL) {
		char *room = rig_page_alloc(strlen(request));
		memcpy(room, request, strlen(request));
		char *response = rig_page_call(room, strlen(request));
		rig_page_release(room);
		if (response == NULL)
			return EXIT_FAILURE;
		fwrite(response, 1, strlen(response) + 1, stdout);
		rig_page_release(response);
	}
	free(request);
	return ferror(stdout) ? EXIT_FAILURE : EXIT_SUCCESS;
}
