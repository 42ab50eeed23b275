/* SPDX-License-Identifier: GPL-3.0-or-later */
/* suites.h: what every test file includes. */
#ifndef SUITES_H
#define SUITES_H

#include <check.h>

#define COUNT(table) ((int)(sizeof(table) / sizeof((table)[0])))

#endif
