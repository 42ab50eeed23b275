/* SPDX-License-Identifier: GPL-3.0-or-later */
/* list.h: the tables of the library, for people to look things up. */
#ifndef ANSWER_LIST_H
#define ANSWER_LIST_H

#include <stddef.h>

#include "rigbudget/document.h"

/* appliances, places, batteries, panels, supplies, conductors, ratings */
size_t rig_n_lists(void);
const char *rig_list_name(size_t i);

typedef struct {
	const char *word; /* rows that hold it, case ignored; "" for all */
	size_t most;      /* rows at most; 0 for all */
} rig_list_wish;

typedef struct {
	rig_document *document; /* a title and one table; to be freed with rig_document_free */
	size_t n;               /* rows that hold the word, also those past `most` */
} rig_listing;

/* RIG_NOT_FOUND: there is no such list. RIG_NO_MEMORY. */
rig_status rig_list_write(const char *name, const rig_list_wish *wish, rig_listing *listing);

#endif
