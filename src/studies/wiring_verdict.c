/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/wiring_verdict.h"

#include <math.h>
#include <string.h>

#include "studies/wire_rating.h"

/* The ends of all doubts together, by what they do to the wire. */
typedef enum { EASY, LIKELY, HARD, N_ENDS } end;

typedef struct {
	rig_wire_rating at[N_ENDS];
} ratings;

static double at_end(rig_figure figure, end which)
{
	return which == EASY ? figure.low : which == HARD ? figure.high : figure.likely;
}

int rig_gauge_of(const char *printed)
{
	int number = 0;
	for (const char *at = printed; *at >= '0' && *at <= '9'; at++)
		number = number * 10 + (*at - '0');
	return strchr(printed, '/') != NULL ? 1 - number : number;
}

static rig_wire_job job_at(const rig_wiring_case *of, const rig_wiring_run *run, end which)
{
	const end cool = which == EASY ? HARD : which == HARD ? EASY : LIKELY;
	const double amps_a = at_end(run->amps_a, which);
	return (rig_wire_job){
		.supply = run->supply,
		.volts_v = run->volts_v,
		.amps_a = amps_a,
		.continuous_a = fmin(at_end(run->continuous_a, which), amps_a),
		.power_factor = run->power_factor,
		.length_m = at_end(run->length_m, which),
		.drop_frac = run->drop_limit_frac,
		.insulation_c = at_end(run->insulation_c, cool),
		.terminal_c = at_end(run->terminal_c, cool),
		.ambient_c = at_end(run->ambient_c, which),
		.bundle = run->bundle,
		.next_size = of->next_size,
		.copper = of->copper,
	};
}

static rig_wiring_state state_of(bool at_hard, bool at_easy)
{
	return at_hard ? RIG_WIRING_HOLDS : at_easy ? RIG_WIRING_DEPENDS : RIG_WIRING_FAILS;
}

static rig_wiring_state judge_drop(const rig_wiring_run *run)
{
	if (run->hopeless)
		return RIG_WIRING_FAILS;
	if (!run->rated || !rig_figure_given(run->length_m))
		return RIG_WIRING_UNKNOWN;
	return state_of(run->drop_frac.high <= run->drop_limit_frac,
		run->drop_frac.low <= run->drop_limit_frac);
}

static rig_wiring_state judge_ampacity(const rig_wiring_run *run, const ratings *rated)
{
	if (!run->rated)
		return RIG_WIRING_UNKNOWN;
	return state_of(rig_covers(rated->at[HARD].ampacity_a, run->amps_a.high),
		rig_covers(rated->at[EASY].ampacity_a, run->amps_a.low));
}

static rig_wiring_state judge_fuse_load(const rig_wiring_case *of, const rig_wiring_run *run)
{
	if (run->amps_from == RIG_AMPS_OF_FUSE)
		return RIG_WIRING_NOT_ASKED;
	if (run->proposed && !rig_figure_given(run->fuse_a))
		return RIG_WIRING_HOLDS;
	if (run->amps_from == RIG_AMPS_UNKNOWN || !rig_figure_given(run->fuse_a))
		return RIG_WIRING_UNKNOWN;
	return state_of(rig_covers(run->fuse_a.low, run->need_a.high),
		rig_covers(run->fuse_a.high, of->largest_need_a.low));
}

static rig_wiring_state judge_fuse_wire(const rig_wiring_run *run, const ratings *rated)
{
	if (run->proposed && !rig_figure_given(run->fuse_a))
		return RIG_WIRING_HOLDS;
	if (!run->rated || !rig_figure_given(run->fuse_a))
		return RIG_WIRING_UNKNOWN;
	return state_of(rig_covers(rated->at[HARD].fuse_limit_a, run->fuse_a.high),
		rig_covers(rated->at[EASY].rounded_a, run->fuse_a.low));
}

/* At the battery the fuse meets all that the bank can give; farther on, what the wire and the fuse
 * before it leave of it, which nobody has worked out. */
static rig_wiring_state judge_interrupt(const rig_wiring_run *run)
{
	const bool given = rig_figure_given(run->interrupt_a);
	if (run->supply != RIG_DC || run->bank < 0 || (!run->at_battery && !given))
		return RIG_WIRING_NOT_ASKED;
	if (!given || run->interrupt_asked_a <= 0.0)
		return RIG_WIRING_UNKNOWN;
	return state_of(rig_covers(run->interrupt_a.low, run->interrupt_asked_a),
		!run->at_battery || run->interrupt_a.high >= run->short_circuit_a.low);
}

static rig_wiring_state judge_distance(const rig_wiring_run *run)
{
	if (!run->at_battery)
		return RIG_WIRING_NOT_ASKED;
	if (!rig_figure_given(run->fuse_distance_m))
		return RIG_WIRING_UNKNOWN;
	return state_of(rig_covers(RIG_FUSE_DISTANCE_MAX_M, run->fuse_distance_m.high),
		rig_covers(RIG_FUSE_DISTANCE_MAX_M, run->fuse_distance_m.low));
}

static rig_figure span(double low, double likely, double high)
{
	return rig_figure_range(fmin(low, likely), likely, fmax(likely, high), RIG_FROM_COMPUTED);
}

/* Rates the wire at the ends of the doubt. */
static rig_status rate(const rig_wiring_case *of, int awg, rig_wiring_run *run, ratings *rated)
{
	for (int which = EASY; which < N_ENDS; which++) {
		const rig_wire_job job = job_at(of, run, (end)which);
		const rig_status status = rig_wire_rate(&job, awg, &rated->at[which]);
		if (status != RIG_OK)
			return status;
	}
	const rig_wire_rating *at = rated->at;
	run->rated = true;
	run->rating = at[LIKELY];
	run->largest_fuse_a = rig_standard_to_a(run->supply, at[LIKELY].fuse_limit_a);
	const rig_wire_job hard = job_at(of, run, HARD);
	const double need_a = rig_fuse_need_a(hard.amps_a, hard.continuous_a);
	const double suited_a = rig_standard_from_a(run->supply, need_a);
	if (suited_a > 0.0 && rig_covers(at[HARD].fuse_limit_a, suited_a))
		run->suited_fuse_a = suited_a;
	if (rig_figure_given(run->length_m)) {
		run->drop_v = span(at[EASY].drop_v, at[LIKELY].drop_v, at[HARD].drop_v);
		run->drop_frac = span(at[EASY].drop_frac, at[LIKELY].drop_frac, at[HARD].drop_frac);
	}
	return RIG_OK;
}

/* How full a wire is: 1 is what it may bear or lose. */
static double fullness(
	const rig_wiring_run *run, const rig_wire_job *job, const rig_wire_rating *at)
{
	const double by_amps = at->ampacity_a > 0 ? job->amps_a / at->ampacity_a : 0;
	return rig_figure_given(run->length_m) ? fmax(by_amps, at->drop_frac / run->drop_limit_frac)
					       : by_amps;
}

static rig_figure still(rig_figure figure)
{
	figure.low = figure.high = figure.likely;
	return figure;
}

/* The run with one of its figures in doubt, the others at their likely value. */
static rig_wiring_run with_doubt_in(const rig_wiring_run *run, rig_measure_kind kind)
{
	rig_wiring_run one = *run;
	if (kind != RIG_MEASURE_WIRE_A) {
		one.amps_a = still(one.amps_a);
		one.continuous_a = still(one.continuous_a);
	}
	if (kind != RIG_MEASURE_WIRE_M)
		one.length_m = still(one.length_m);
	if (kind != RIG_MEASURE_WIRE_HEAT)
		one.ambient_c = still(one.ambient_c);
	one.insulation_c = still(one.insulation_c);
	one.terminal_c = still(one.terminal_c);
	return one;
}

static rig_status find_measures(const rig_wiring_case *of, int awg, rig_wiring_run *run)
{
	static const rig_measure_kind KIND[RIG_MEASURE_SHOWN] = {
		RIG_MEASURE_WIRE_A, RIG_MEASURE_WIRE_M, RIG_MEASURE_WIRE_HEAT};
	for (int i = 0; i < RIG_MEASURE_SHOWN; i++) {
		const rig_wiring_run one = with_doubt_in(run, KIND[i]);
		rig_measure *input = &run->measures[i];
		*input = (rig_measure){.kind = KIND[i], .index = run->wire};
		for (int which = EASY; which < N_ENDS; which++) {
			rig_wire_rating at;
			const rig_wire_job job = job_at(of, &one, (end)which);
			const rig_status status = rig_wire_rate(&job, awg, &at);
			if (status != RIG_OK)
				return status;
			input->outcome[which] = fullness(run, &job, &at);
		}
		input->decides = (input->outcome[EASY] > 1) != (input->outcome[HARD] > 1);
	}
	rig_measure_shares(RIG_MEASURE_SHOWN, run->measures);
	run->n_measures = rig_measure_rank(RIG_MEASURE_SHOWN, run->measures, RIG_MEASURE_SHOWN);
	return RIG_OK;
}

/* Chooses wire and fuse for the load, and the gauge to go on with. */
static int choose(const rig_wiring_case *of, rig_wiring_run *run)
{
	const bool named = of->awg != RIG_NO_GAUGE;
	rig_wire_job job = job_at(of, run, HARD);
	const double need_a = rig_fuse_need_a(job.amps_a, job.continuous_a);
	/* a wire that is still to be named fits the fuse that is there */
	if (!named && rig_covers(run->fuse_a.high, need_a))
		job.fuse_a = run->fuse_a.high;
	run->chosen = rig_wire_choose(&job, &run->choice) == RIG_OK;
	run->proposed = !named && run->chosen;
	run->hopeless = !named && !run->chosen;
	return run->proposed ? run->choice.wire.awg : of->awg;
}

rig_status rig_wiring_judge(const rig_wiring_case *of, rig_wiring_run *run)
{
	ratings rated = {0};
	const bool loaded = rig_figure_given(run->amps_a) && run->amps_a.high > 0.0;
	const int awg = loaded ? choose(of, run) : of->awg;
	run->gauged = awg != RIG_NO_GAUGE;
	run->awg = run->gauged ? awg : 0;
	rig_status status = loaded && run->gauged ? rate(of, awg, run, &rated) : RIG_NOT_FOUND;
	if (status == RIG_OK)
		status = find_measures(of, awg, run);
	if (status != RIG_OK && status != RIG_NOT_FOUND)
		return status;
	run->state[RIG_WIRING_DROP] = judge_drop(run);
	run->state[RIG_WIRING_AMPACITY] = judge_ampacity(run, &rated);
	run->state[RIG_WIRING_FUSE_LOAD] = judge_fuse_load(of, run);
	run->state[RIG_WIRING_FUSE_WIRE] = judge_fuse_wire(run, &rated);
	run->state[RIG_WIRING_INTERRUPT] = judge_interrupt(run);
	run->state[RIG_WIRING_DISTANCE] = judge_distance(run);
	for (int rule = 0; rule < RIG_N_WIRING_RULES; rule++)
		if (run->state[rule] > run->state[run->worst])
			run->worst = (rig_wiring_rule)rule;
	return RIG_OK;
}

const char *rig_wiring_rule_text(rig_wiring_rule rule)
{
	static const char *const TEXT[RIG_N_WIRING_RULES] = {"voltage drop", "ampacity",
		"fuse against the load", "fuse against the wire", "interrupt rating",
		"fuse near the battery"};
	return rule >= 0 && rule < RIG_N_WIRING_RULES ? TEXT[rule] : "no rule";
}

const char *rig_wiring_state_text(rig_wiring_state state)
{
	static const char *const TEXT[] = {"not asked", "holds", "depends", "not known", "fails"};
	return state >= RIG_WIRING_NOT_ASKED && state <= RIG_WIRING_FAILS ? TEXT[state]
									  : "no state";
}
