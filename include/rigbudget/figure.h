/* SPDX-License-Identifier: GPL-3.0-or-later */
/* figure.h: a quantity with its doubt and its origin. The unit stands in the name of the field that
 * holds it. */
#ifndef RIG_FIGURE_H
#define RIG_FIGURE_H

#include <stdbool.h>

typedef enum {
	RIG_FROM_NOTHING,   /* the figure is absent */
	RIG_FROM_STATED,    /* a plain number in the coach file */
	RIG_FROM_MEASURED,  /* read with a meter or a tape */
	RIG_FROM_NAMEPLATE, /* read off a label */
	RIG_FROM_PROFILE,   /* taken from profiles/ */
	RIG_FROM_ESTIMATED, /* judged from what can be seen */
	RIG_FROM_COMPUTED,  /* a result */
	RIG_N_ORIGINS
} rig_origin;

/* low <= likely <= high, all finite, unless from is RIG_FROM_NOTHING, when the rest is 0. */
typedef struct {
	double low;
	double likely;
	double high;
	rig_origin from;
	unsigned char unit; /* which of its key's units the file used; 0 is the SI one */
	const char *source; /* where a profile or a note says it is from; NULL if nobody says */
} rig_figure;

/* The word for an origin: "measured", "nameplate", ... Never NULL. */
const char *rig_origin_text(rig_origin from);

bool rig_figure_given(rig_figure figure); /* false: absent */
/* An exact figure. */
rig_figure rig_figure_of(double value, rig_origin from);
rig_figure rig_figure_range(double low, double likely, double high, rig_origin from); /* in order */

/* Interval arithmetic on monotone operations; the result is RIG_FROM_COMPUTED and absent if an
 * operand is absent. The likely value is the operation on the likely values; low and high are the
 * widest that the operands allow, as if they were independent (costs: too wide for sums of many).
 */
rig_figure rig_figure_add(rig_figure a, rig_figure b);
rig_figure rig_figure_subtract(rig_figure a, rig_figure b);
rig_figure rig_figure_multiply(rig_figure a, rig_figure b); /* both >= 0 */
rig_figure rig_figure_divide(rig_figure a, rig_figure b);   /* a >= 0, b.low > 0 */
rig_figure rig_figure_scale(rig_figure a, double factor);   /* factor >= 0 */

#endif
