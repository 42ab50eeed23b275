/* SPDX-License-Identifier: GPL-3.0-or-later */
/* reading_session.h: a coach and readings typed one by one, for tests. */
#ifndef READING_SESSION_H
#define READING_SESSION_H

#include "rigbudget/coach.h"
#include "rigbudget/readings.h"

/* A 30 A coach with a galley circuit and two flooded batteries of 100 Ah; open at its end. */
#define COACH_OF(loads)                                                                            \
	"{\"format\": \"rigbudget/1\", \"name\": \"T\", \"shore\": {\"cord_a\": 30}, "             \
	"\"circuits\": [{\"id\": \"galley\", \"breaker_a\": 20}], "                                \
	"\"banks\": [{\"id\": \"house\", \"chemistry\": \"flooded\", \"capacity_ah\": 100, "       \
	"\"parallel\": 2, \"nominal_v\": 12}], \"loads\": [" loads "]"

/* AC: a and b are heaters of 10 and 8 A, motor takes 6.25 A at 0.8, box 5 A. */
extern const char reading_two_heaters[];

typedef struct {
	rig_file *file;
	rig_reading_list *lists[16];
	rig_reading readings[16];
	size_t n;
	rig_readings_findings *findings;
} session;

/* Fails the test with what the reader says. */
rig_file *session_parse(const char *text);
/* words: as rig_reading_list_words takes them, NULL after the last. Readings of an array need a
 * place. */
void session_start(
	session *s, const char *coach, const rig_place *place, const char *const words[]);
void session_end(session *s);
/* Of a load by its id; fails the test where there is none. */
const rig_readings_draw *session_draw(const session *s, const char *id);

#endif
