/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold of days without hookups of any coach. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "altered.h"
#include "laws.h"
#include "rigbudget/trip.h"
#include "stay.h"
#include "suites.h"

static rig_trip_findings *trip_of(const subject *it)
{
	rig_trip_options options = rig_trip_defaults();
	options.month = it->month;
	options.n_days = 2;
	options.n_trips = 0;
	rig_trip_findings *findings = NULL;
	return rig_trip_study(it->coach, &it->place, &options, &findings) == RIG_OK ? findings
										    : NULL;
}

static const char *energy_of(const rig_trip_bank *bank)
{
	const rig_trip_flows_wh_day *f = &bank->flows;
	const double in = f->harvest + f->from_store;
	const double out = f->dc + f->ac + f->inverter_loss + f->inverter_idle + f->charge_loss +
			   f->self_discharge + f->curtailed;
	const double flowed = f->harvest + fabs(f->from_store) + f->dc + f->ac;
	if (!(fabs(in - out) <= 1e-9 * (1 + flowed)))
		return "energy is lost or made";
	return bank->lowest_wh >= 0 ? NULL : "a bank holds less than nothing";
}

static const char *energy_is_conserved(const subject *it)
{
	rig_trip_findings *findings = trip_of(it);
	const char *broken = findings == NULL ? "there is no stay" : NULL;
	for (size_t b = 0; findings != NULL && broken == NULL && b < findings->n_banks; b++)
		broken = energy_of(&findings->banks[b]);
	rig_trip_free(findings);
	return it->coach->n_banks > 0 ? broken : NOT_ASKED;
}

/* ---- each hour ---- */

static const char *hour_holds(const rig_hour *now, double before_wh, double full_wh, double frac)
{
	const double in = now->offered_wh + now->short_frac * now->wanted_wh + now->drawn_wh;
	const double out = now->wanted_wh + now->charged_wh + now->curtailed_wh;
	const double gained = now->charged_wh * frac - now->drawn_wh - now->lost_wh;
	if (!isfinite(in) || !isfinite(out) || !isfinite(now->store_wh))
		return "a figure is no number";
	if (!law_close(in, out))
		return "what comes is not what goes";
	if (fabs(now->store_wh - before_wh - gained) > 1e-9 * (1 + full_wh))
		return "a bank changes by something else than what goes in and out";
	if (now->short_frac < 0 || now->short_frac > 1 || now->left_wh < 0 || now->drawn_wh < 0 ||
		now->charged_wh < 0 || now->curtailed_wh < 0 || now->lost_wh < 0)
		return "a flow is less than nothing or a shortage more than all";
	if (now->charged_wh > 0 && now->drawn_wh > 0)
		return "a bank is filled and emptied at once";
	return now->store_wh >= -1e-9 * full_wh && now->store_wh <= full_wh * (1 + 1e-9)
		       ? NULL
		       : "a bank holds less than nothing or more than it can";
}

static const char *hours_hold(const subject *it)
{
	stay made;
	const char *broken = NOT_ASKED;
	rig_day_hours day;
	rig_mean_day(&it->place, it->month, &day);
	if (stay_of(it->coach, &it->place, it->month, &made))
		broken = NULL;
	for (size_t i = 0; broken == NULL && i < STAY_HOURS * made.n_stores; i++) {
		const size_t store = i % made.n_stores, hour = i / made.n_stores;
		const rig_wells *full = &made.start.wells[store];
		const double before_wh = hour > 0 ? made.hours[i - made.n_stores].store_wh
						  : full->available + full->bound;
		broken = hour_holds(&made.hours[i], before_wh,
			rig_plan_capacity_wh(made.plan, store),
			rig_plan_efficiency_frac(made.plan, store));
		if (day.ghi_wm2[hour % 24] <= 0 && made.hours[i].offered_wh != 0)
			broken = "a panel brings something by night";
	}
	stay_free(&made);
	return broken;
}

/* ---- a stay beside another ---- */

/* What the second stay is to be beside the first. */
typedef const char *(*beside)(const stay *one, const stay *two, size_t store);

static const char *compare_both(
	const subject *it, const rig_coach *own, const rig_coach *other, beside holds)
{
	stay one, two;
	const bool first = stay_of(own, &it->place, it->month, &one);
	const bool second = stay_of(other, &it->place, it->month, &two);
	const char *broken = first != second ? "one of the two has no stay" : NULL;
	for (size_t s = 0; first && second && broken == NULL && s < one.n_stores; s++)
		broken = holds(&one, &two, s);
	stay_free(&one);
	stay_free(&two);
	return first || broken != NULL ? broken : NOT_ASKED;
}

static const char *compare(const subject *it, const rig_coach *other, beside holds)
{
	return compare_both(it, it->coach, other, holds);
}

/* A store that keeps its loads off until it stands at a level (hysteresis): with more in it they
 * come back sooner, and can empty it again. */
static bool waits(const stay *made, size_t store)
{
	const rig_bank *bank = &made->model.coach->banks[made->model.bank_of[store]];
	return rig_figure_given(bank->reconnect_soc_frac);
}

static const char *no_worse(const stay *one, const stay *two, size_t store)
{
	const stay_sum a = stay_sum_of(one, store), b = stay_sum_of(two, store);
	if (b.first_short < a.first_short)
		return "the first shortage comes sooner";
	if (waits(one, store))
		return NULL;
	if (!law_at_least(a.unserved_wh, b.unserved_wh))
		return "more goes unserved";
	return law_at_least(b.lowest_wh, a.lowest_wh) ? NULL : "less is left at the lowest";
}

static const char *no_better(const stay *one, const stay *two, size_t store)
{
	return no_worse(two, one, store) == NULL ? NULL : "less goes unserved, or more is left";
}

static const char *more_panel_is_no_worse(const subject *it)
{
	altered other;
	altered_of(&other, it->coach);
	for (size_t i = 0; i < other.coach.n_arrays; i++) {
		rig_array *array = &other.arrays[i];
		array->total_w = scaled(array->total_w, 1.3);
		array->watts_w = scaled(array->watts_w, 1.3);
	}
	return other.coach.n_arrays > 0 ? compare(it, &other.coach, no_worse) : NOT_ASKED;
}

/* What a bank loses by itself is a share of what is in it: of so leaky a bank that a panel has to
 * fill it up each day, a larger one may hold less. */
static void seal(altered *it)
{
	for (size_t i = 0; i < it->coach.n_banks; i++) {
		it->banks[i].self_discharge_frac_month = rig_figure_of(0, RIG_FROM_STATED);
		/* of a larger bank they would be others */
		it->banks[i].reserve_minutes = (rig_figure){0};
	}
}

static const char *more_bank_is_no_worse(const subject *it)
{
	altered one, two;
	altered_of(&one, it->coach);
	seal(&one);
	altered_of(&two, &one.coach);
	for (size_t i = 0; i < two.coach.n_banks; i++) {
		rig_bank *bank = &two.banks[i];
		rig_figure *const figures[] = {&bank->capacity_ah, &bank->capacity_wh,
			&bank->usable_wh, &bank->total_wh, &bank->total_ah};
		for (int f = 0; f < COUNT(figures); f++)
			*figures[f] = scaled(*figures[f], 1.3);
	}
	return compare_both(it, &one.coach, &two.coach, no_worse);
}

/* A load that the banks carry, picked by the coach's number; -1 without one. */
static int carried_load(const subject *it, const rig_coach *coach)
{
	const size_t n = coach->n_loads;
	for (size_t i = 0; i < n; i++) {
		const int load = (int)((i + it->number) % n);
		const rig_away away = rig_load_away(coach, load, -1);
		if (away == RIG_RUNS_ON_BANK || away == RIG_RUNS_ON_INVERTER)
			return load;
	}
	return -1;
}

static const char *more_load_is_no_better(const subject *it)
{
	altered other;
	altered_of(&other, it->coach);
	const int load = carried_load(it, it->coach);
	if (load < 0)
		return NOT_ASKED;
	other.loads[load].running_w = scaled(other.loads[load].running_w, 1.3);
	return rig_load_away(&other.coach, load, -1) == rig_load_away(it->coach, load, -1)
		       ? compare(it, &other.coach, no_better)
		       : NOT_ASKED;
}

static const char *worse_parts_are_no_better(const subject *it)
{
	altered other;
	altered_of(&other, it->coach);
	rig_inverter *inverter = &other.coach.inverter;
	inverter->loss_linear_frac = scaled(inverter->loss_linear_frac, 1.5);
	inverter->loss_square_frac = scaled(inverter->loss_square_frac, 1.5);
	for (size_t i = 0; i < other.coach.n_banks; i++) {
		rig_bank *bank = &other.banks[i];
		bank->charge_efficiency_frac = scaled(bank->charge_efficiency_frac, 0.9);
		bank->self_discharge_frac_month = scaled(bank->self_discharge_frac_month, 1.2);
	}
	return compare(it, &other.coach, no_better);
}

/* ---- what changes nothing, to the last bit ---- */

static bool same_hour(const rig_hour *a, const rig_hour *b)
{
	return a->offered_wh == b->offered_wh && a->wanted_wh == b->wanted_wh &&
	       a->charged_wh == b->charged_wh && a->drawn_wh == b->drawn_wh &&
	       a->curtailed_wh == b->curtailed_wh && a->lost_wh == b->lost_wh &&
	       a->short_frac == b->short_frac && a->store_wh == b->store_wh &&
	       a->left_wh == b->left_wh;
}

static const char *to_the_bit(const stay *one, const stay *two, size_t store)
{
	for (size_t hour = 0; hour < STAY_HOURS; hour++) {
		const size_t at = hour * one->n_stores + store;
		if (!same_hour(&one->hours[at], &two->hours[at]))
			return "what draws and brings nothing changes an hour";
	}
	return NULL;
}

static const char *nothing_changes_nothing(const subject *it)
{
	altered other;
	altered_of(&other, it->coach);
	if (it->coach->n_loads > 0) {
		rig_load *twin = altered_twin(&other, it->number % it->coach->n_loads);
		twin->running_w = twin->heat_w = twin->start_a = rig_figure_of(0, RIG_FROM_STATED);
	}
	if (it->coach->n_arrays > 0) {
		const rig_array *array = &other.arrays[it->number % it->coach->n_arrays];
		rig_array *twin = &other.arrays[other.coach.n_arrays++];
		*twin = *array;
		twin->watts_w = twin->total_w = rig_figure_of(0, RIG_FROM_STATED);
	}
	(void)altered_circuit(&other, RIG_LEG_UNSAID);
	return compare(it, &other.coach, to_the_bit);
}

static const char *all_twice(const stay *one, const stay *two, size_t store)
{
	for (size_t hour = 0; hour < STAY_HOURS; hour++) {
		const rig_hour *a = &one->hours[hour * one->n_stores + store];
		const rig_hour *b = &two->hours[hour * two->n_stores + store];
		if (!law_close(2 * a->offered_wh, b->offered_wh) ||
			!law_close(2 * a->wanted_wh, b->wanted_wh) ||
			!law_close(2 * a->store_wh, b->store_wh) ||
			!law_close(a->short_frac, b->short_frac))
			return "all twice as large is not twice the energy at the same charge";
	}
	return NULL;
}

/* Reserve minutes are those at 25 A, whatever the bank. */
static const char *twice_is_twice(const subject *it)
{
	altered other;
	for (size_t i = 0; i < it->coach->n_banks; i++)
		if (rig_figure_given(it->coach->banks[i].reserve_minutes))
			return NOT_ASKED;
	altered_of(&other, it->coach);
	altered_scale(&other, 2);
	return compare(it, &other.coach, all_twice);
}

/* ---- halves ---- */

static const char *as_one(const stay *one, const stay *two, size_t store)
{
	for (size_t hour = 0; hour < STAY_HOURS; hour++) {
		const rig_hour *a = &one->hours[hour * one->n_stores + store];
		const rig_hour *b = &two->hours[hour * two->n_stores + store];
		if (!law_close(a->offered_wh, b->offered_wh) ||
			!law_close(a->wanted_wh, b->wanted_wh) ||
			!law_close(a->store_wh, b->store_wh))
			return "two halves are not the whole";
	}
	return NULL;
}

/* Behind an inverter two halves run apart from each other, which costs less than together: DC
 * loads only. */
static const char *halves_are_the_whole(const subject *it)
{
	altered other;
	altered_of(&other, it->coach);
	const int load = carried_load(it, it->coach);
	const bool dc = load >= 0 && it->coach->loads[load].supply == RIG_DC;
	if (dc) {
		rig_load *half = &other.loads[load];
		half->running_w = scaled(half->running_w, 0.5);
		half->heat_w = scaled(half->heat_w, 0.5);
		(void)altered_twin(&other, (size_t)load);
	}
	const size_t n = it->coach->n_arrays;
	if (n > 0 && !rig_figure_given(other.arrays[it->number % n].controller_limit_a)) {
		rig_array *half = &other.arrays[it->number % n];
		half->total_w = scaled(half->total_w, 0.5);
		half->watts_w = scaled(half->watts_w, 0.5);
		other.arrays[other.coach.n_arrays++] = *half;
	}
	return dc || n > 0 ? compare(it, &other.coach, as_one) : NOT_ASKED;
}

/* ---- time ---- */

/* In weather that repeats, going on tomorrow from what is left tonight is going on. */
static const char *tomorrow_is_another_day(const subject *it)
{
	stay made;
	const char *broken = NOT_ASKED;
	if (!stay_of(it->coach, &it->place, it->month, &made))
		goto out;
	rig_standing standing = made.start;
	rig_hour hours[STAY_HOURS * RIG_MAX_STORES];
	rig_plan_trace(made.plan, NULL, 24, &standing, hours);
	standing.hour = 0;
	rig_plan_trace(made.plan, NULL, STAY_HOURS - 24, &standing, hours + 24 * made.n_stores);
	broken = NULL;
	for (size_t i = 0; i < STAY_HOURS * made.n_stores; i++)
		if (!same_hour(&hours[i], &made.hours[i]))
			broken = "a stay in two pieces is not the stay in one";
out:
	stay_free(&made);
	return broken;
}

static void turn_window(int *from, int *to, int by)
{
	if (*from < 0 || *to < 0)
		return;
	*from = (*from + by) % 24;
	*to = (*to + by - 1) % 24 + 1;
}

/* Each load used by windows of its own, which turn with the clock; the place's clock is ahead by as
 * much, so that the sun goes with them. */
static void turn_clock(altered *it, rig_place *place, int by)
{
	for (size_t i = 0; i < it->coach.n_loads; i++)
		turn_window(&it->loads[i].from_hour, &it->loads[i].to_hour, by);
	place->utc_offset_h += by;
}

/* Rules for loads without a window go by the clock, and do not turn. */
static void give_windows(altered *it)
{
	for (size_t i = 0; i < it->coach.n_loads; i++) {
		rig_load *load = &it->loads[i];
		if (load->always_on == RIG_YES || (load->from_hour >= 0 && load->to_hour >= 0))
			continue;
		load->from_hour = (int)(i * 5 % 24);
		load->to_hour = load->from_hour + 1;
		load->daily_use_h = rig_figure_of(0.5, RIG_FROM_STATED);
	}
}

static const char *turned(stay *one, stay *two, int by)
{
	rig_hour later[STAY_HOURS * RIG_MAX_STORES];
	rig_standing standing = one->start;
	standing.hour = (size_t)by;
	rig_plan_trace(two->plan, NULL, STAY_HOURS, &standing, later);
	memcpy(two->hours, later, sizeof later);
	for (size_t s = 0; s < one->n_stores; s++)
		if (as_one(one, two, s) != NULL)
			return "another clock is another stay";
	return NULL;
}

static const char *clocks_do_not_matter(const subject *it)
{
	altered one, two;
	stay a, b;
	rig_place place = it->place;
	const int by = 1 + (int)(it->number % 11);
	altered_of(&one, it->coach);
	give_windows(&one);
	altered_of(&two, &one.coach);
	turn_clock(&two, &place, by);
	const bool first = stay_of(&one.coach, &it->place, it->month, &a);
	const bool second = stay_of(&two.coach, &place, it->month, &b);
	const char *broken = first && second ? turned(&a, &b, by) : NOT_ASKED;
	stay_free(&a);
	stay_free(&b);
	return broken;
}

/* ---- nothing at all ---- */

static const char *an_empty_coach_stands_still(const subject *it)
{
	altered other;
	stay made;
	altered_of(&other, it->coach);
	other.coach.n_loads = other.coach.n_arrays = 0;
	other.coach.inverter.present = false;
	seal(&other);
	const bool any = stay_of(&other.coach, &it->place, it->month, &made);
	const char *broken = any ? NULL : NOT_ASKED;
	for (size_t i = 0; any && i < STAY_HOURS * made.n_stores; i++) {
		const rig_hour *now = &made.hours[i];
		const rig_wells *full = &made.start.wells[i % made.n_stores];
		const double full_wh = full->available + full->bound;
		if (now->offered_wh != 0 || now->wanted_wh != 0 || now->drawn_wh != 0 ||
			now->charged_wh != 0 || now->lost_wh != 0 || now->short_frac != 0)
			broken = "something flows in a coach with nothing in it";
		if (fabs(now->store_wh - full_wh) > 1e-12 * full_wh)
			broken = "a bank that nothing draws on does not stay full";
	}
	stay_free(&made);
	return broken;
}

static const law_row STAYS[] = {
	{"energy is conserved", energy_is_conserved, 500},
	{"hours hold", hours_hold, 500},
	{"more panel is no worse", more_panel_is_no_worse, 300},
	{"more bank is no worse", more_bank_is_no_worse, 500},
	{"more load is no better", more_load_is_no_better, 300},
	{"worse parts are no better", worse_parts_are_no_better, 500},
	{"what is nothing changes nothing", nothing_changes_nothing, 500},
	{"twice is twice", twice_is_twice, 500},
	{"two halves are the whole", halves_are_the_whole, 400},
	{"tomorrow is another day", tomorrow_is_another_day, 500},
	{"clocks do not matter", clocks_do_not_matter, 500},
	{"an empty coach stands still", an_empty_coach_stands_still, 500},
};

START_TEST(stays_of_any_coach_obey)
{
	laws_hold(STAYS, COUNT(STAYS), _i);
}
END_TEST

/* Why more panel is only claimed to be no worse where no load waits for a level. A heater runs on
 * January mornings, and after a shortage only from 60 % on. With 400 W the bank falls short in the
 * second hour, and the wait is over before the fourth; with 520 W it falls short in the third, and
 * the wait takes all of the fourth. */
static double unserved_wh(const char *watts_w)
{
	char text[600];
	snprintf(text, sizeof text,
		"{\"format\": \"rigbudget/1\", \"name\": \"Waits\", \"shore\": {\"cord_a\": 30}, "
		"\"loads\": [{\"id\": \"heater\", \"supply\": \"dc\", \"running_w\": 280, "
		"\"from_hour\": 8, \"to_hour\": 12, \"daily_use_h\": 4}], \"banks\": [{\"id\": "
		"\"house\", \"chemistry\": \"agm\", \"capacity_ah\": 100, "
		"\"reconnect_soc_frac\": 0.6}], \"solar\": [{\"id\": \"roof\", \"bank\": "
		"\"house\", \"controller\": \"mppt\", \"watts_w\": %s}]}",
		watts_w);
	rig_file *file = NULL;
	rig_place place;
	stay made;
	ck_assert_int_eq(rig_file_parse(text, strlen(text), NULL, &file), RIG_OK);
	rig_place_at((size_t)rig_place_find("Flagstaff"), &place);
	ck_assert(stay_of(rig_file_completed(file), &place, 0, &made));
	const double unserved = stay_sum_of(&made, 0).unserved_wh;
	stay_free(&made);
	rig_file_free(file);
	return unserved;
}

START_TEST(more_panel_may_serve_less_where_loads_wait_for_a_level)
{
	ck_assert_double_gt(unserved_wh("520"), unserved_wh("400") + 100);
}
END_TEST

Suite *stay_laws_suite(void);
Suite *stay_laws_suite(void)
{
	Suite *suite = suite_create("stay_laws");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 600);
	tcase_add_loop_test(all, stays_of_any_coach_obey, 0, N_LAW_PARTS);
	tcase_add_test(all, more_panel_may_serve_less_where_loads_wait_for_a_level);
	suite_add_tcase(suite, all);
	return suite;
}
