/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pack_main.c: the tool of pack.h as a program. */
#include <stdio.h>
#include <stdlib.h>

#include "rig/pack.h"

int main(int argc, char **argv)
{
	if (argc != 3) {
		(void)fprintf(stderr, "usage: pack PROFILES OUT\n");
		return 2;
	}
	return pack_all(argv[1], argv[2]) ? EXIT_SUCCESS : EXIT_FAILURE;
}
