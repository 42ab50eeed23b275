/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rows.h: tables of cases in files: a row a line, fields between " | ", # for words. */
#ifndef ROWS_H
#define ROWS_H

#include "base/buffer.h"

enum { ROW_FIELDS = 3 };

/* A file of rows, read whole; NULL-terminated fields. */
typedef struct {
	rig_buffer text;
	char *next;
	char *field[ROW_FIELDS];
	int line; /* counts rows, words and empty lines too */
} rows;

/* path is below the folder tests. Fails the test if it cannot be read. */
rows rows_open(const char *path);
/* To the next row with that many fields. */
bool rows_next(rows *it, int n_fields);
void rows_close(rows *it);

/* Puts bytes for %XX in place; a % without digits stands for nothing. Gives the length. */
size_t rows_bytes(char *text);

#endif
