/* SPDX-License-Identifier: GPL-3.0-or-later */
/* oneline.h: a coach as the graph of its one-line diagram: sources, transfer, panels, protection,
 * conductors, loads. It holds what the file states and what that cannot do without; it works out no
 * size. */
#ifndef RIG_ONELINE_H
#define RIG_ONELINE_H

#include <stdbool.h>
#include <stddef.h>

#include "rigbudget/coach.h"
#include "rigbudget/status.h"

typedef enum {
	RIG_NODE_SHORE,             /* cord and inlet */
	RIG_NODE_GENERATOR,         /* its 120 V side */
	RIG_NODE_TRANSFER,          /* between shore power and generator */
	RIG_NODE_MANAGER,           /* energy manager */
	RIG_NODE_MAIN,              /* the AC panel behind its main breaker */
	RIG_NODE_AC_BUS,            /* of that panel, one leg or both */
	RIG_NODE_CHARGER,           /* converter: AC in, DC out */
	RIG_NODE_INVERTER,          /* DC in, AC out */
	RIG_NODE_INVERTER_CHARGER,  /* both in one case */
	RIG_NODE_INVERTER_TRANSFER, /* between the panel and the inverter */
	RIG_NODE_INVERTER_BUS,      /* of the circuits that the inverter feeds */
	RIG_NODE_DC_BUS,            /* where a bank, its chargers and its fuses meet */
	RIG_NODE_BANK,
	RIG_NODE_ARRAY,
	RIG_NODE_CONTROLLER, /* of an array */
	RIG_NODE_ALTERNATOR,
	RIG_NODE_DC_CHARGER,
	RIG_NODE_LOADS,    /* those of a circuit, or those that nobody gives a circuit */
	RIG_NODE_WIRE_END, /* of a wire from a bank of which nobody says what it feeds */
	RIG_N_NODE_KINDS
} rig_node_kind;

typedef struct {
	rig_node_kind kind;
	int of;         /* index of the bank, array, wire or (of loads) circuit, or -1 */
	rig_leg leg;    /* of an AC bus: RIG_LEG_UNSAID where nobody says */
	bool assumed;   /* the file does not name it: what it names cannot do without */
	size_t n_loads; /* of loads; also what else hangs on a charger's circuit */
	int *loads;     /* indices in coach->loads */
} rig_oneline_node;

typedef enum {
	RIG_GUARD_NONE, /* inside a case, or along a bar */
	RIG_GUARD_BREAKER,
	RIG_GUARD_FUSE
} rig_guard;

/* A run of conductors, all of them as one line. Energy goes from `from` to `to`. */
typedef struct {
	int from, to; /* indices of nodes */
	bool both_ways;
	bool across; /* joins the AC side and the DC side */
	rig_supply_kind supply;
	rig_guard guard;
	int poles;              /* of a breaker; 2 on both legs */
	rig_figure rating_a;    /* of the guard; absent: nobody says */
	rig_figure interrupt_a; /* that it can break; may be absent */
	bool cable;             /* a cable whose size matters; not a bar and not inside a case */
	const char *awg;        /* printed gauge; NULL: nobody says */
	rig_figure length_m;    /* one way; absent: nobody says */
	int circuit, wire;      /* that it stands for: indices in the coach, or -1 */
} rig_oneline_edge;

typedef struct {
	const rig_coach *coach; /* the caller's; must outlive the findings */
	size_t n_nodes, n_edges;
	rig_oneline_node *nodes;
	rig_oneline_edge *edges;
	size_t n_cables, n_cables_sized; /* runs of cable, and those with a gauge */
	size_t n_guards, n_guards_rated; /* breakers and fuses, and those with a rating */
	size_t n_wires_left;             /* wires of the file that join nothing in it */
	const int *wires_left;           /* their indices */
} rig_oneline_findings;

/* The graph of a completed coach.
 *   findings   out: to be freed with rig_oneline_free(); untouched unless RIG_OK
 * A generator beside a cord needs a transfer switch; so do circuits fed by an inverter and by the
 * panel. The main breaker has the rating of the cord. An inverter and a charger of one bank that
 * bear the same name are one unit. A second wire of a circuit is not a line of its own.
 * RIG_NO_MEMORY. */
rig_status rig_oneline_study(const rig_coach *completed, rig_oneline_findings **findings);
void rig_oneline_free(rig_oneline_findings *findings);

/* A few words, such as "transfer switch". Never NULL. */
const char *rig_node_text(rig_node_kind kind);

#endif
