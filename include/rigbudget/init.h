/* SPDX-License-Identifier: GPL-3.0-or-later */
/* init.h: what a program does once before it uses the library. */
#ifndef RIG_INIT_H
#define RIG_INIT_H

/* Turns off GSL's error handler, which would end the process; the library checks GSL's codes. The
 * handler is one for the whole process: a program with its own use of GSL keeps this in mind. May
 * be called again. */
void rig_init(void);

#endif
