/* SPDX-License-Identifier: GPL-3.0-or-later */
/* status.h: what a function that can fail says. Words for people go to a rig_diags list. */
#ifndef RIG_STATUS_H
#define RIG_STATUS_H

#define RIG_STATUS_LIST(X) /* X(name, text) of each */                                             \
	X(RIG_OK, "fine")                                                                          \
	X(RIG_BAD_INPUT, "the input is wrong")                                                     \
	X(RIG_NOT_FOUND, "there is no such entry")                                                 \
	X(RIG_NO_SOLUTION, "no answer meets the conditions")                                       \
	X(RIG_NO_MEMORY, "out of memory")                                                          \
	X(RIG_IO, "a file could not be read or written")                                           \
	X(RIG_NOT_SAVED_SURELY, "saved, but the disk did not confirm it")

#define RIG_STATUS_NAME(name, text) name, /* the name of a row */
typedef enum { RIG_STATUS_LIST(RIG_STATUS_NAME) RIG_N_STATUS } rig_status;
#undef RIG_STATUS_NAME

/* One lower-case phrase for a status. Never NULL. */
const char *rig_status_text(rig_status status);

#endif
