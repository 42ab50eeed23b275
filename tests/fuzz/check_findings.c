/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "check_findings.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

#include "fuzz.h"

/* Sums of doubles of a few thousand terms. */
static const double SLACK = 1e-9;

/* What numbers of a name may be, wherever they stand; see docs/results.md. */
static const struct {
	const char *key;
	double low, high;
} KEYS[] = {{"month", 1, 12}, {"worst_month", 1, 12}, {"best_month", 1, 12}, {"at_s", 0, 86400},
	{"from_s", 0, 86400}, {"to_s", 0, 86400}, {"over_s_day", 0, 86400},
	{"helpless_s_day", 0, 86400}, {"below_a_s_day", 0, 86400}, {"below_b_s_day", 0, 86400},
	{"compressor_low_s_day", 0, 86400}, {"run_h_day", 0, 24}, {"hours_by_day", 0, 24},
	{"hours_day", 0, 24}, {"days_if_cut", 0, 365}, {"days_gained", -365, 365},
	{"unmet_frac", 0, 1}, {"short_frac", 0, 1}, {"never_out_low", 0, 1},
	{"never_out_high", 0, 1}, {"out_by_day_frac", 0, 1}, {"charge_frac", 0, 1},
	{"run_out_frac", 0, 1}, {"days_frac", 0, 1}, {"days_with_drops_frac", 0, 1},
	{"compressor_low_days_frac", 0, 1}, {"out_if_cut_frac", 0, 1}, {"limited_frac", 0, 1},
	{"at_bank_frac", 0, 1}, {"depth_frac", 0, 1}, {"short_days_by_month", 0, 366},
	{"lowest_wh", 0, HUGE_VAL}, {"store_wh", 0, HUGE_VAL}, {"left_wh", 0, HUGE_VAL},
	{"unserved_wh", 0, HUGE_VAL}, {"unserved_ac_wh", 0, HUGE_VAL},
	{"unserved_dc_wh", 0, HUGE_VAL}, {"trips_unserved_wh", 0, HUGE_VAL},
	{"wanted_wh", 0, HUGE_VAL}, {"served_wh_day", 0, HUGE_VAL},
	{"withheld_wh_day", 0, HUGE_VAL}, {"peak_a", 0, HUGE_VAL}, {"mean_a", 0, HUGE_VAL},
	{"price", 0, HUGE_VAL}, {"weight_kg", 0, HUGE_VAL}, {"cycles", 0, HUGE_VAL},
	{"drop_frac", 0, HUGE_VAL}, {"clear_wh_day", 0, HUGE_VAL},
	{"plane_kwh_m2_day", 0, HUGE_VAL}};
enum { N_KEYS = sizeof KEYS / sizeof KEYS[0] };

static const cJSON *member(const cJSON *node, const char *key)
{
	return cJSON_GetObjectItemCaseSensitive(node, key);
}

static bool has_number(const cJSON *node, const char *key)
{
	return cJSON_IsNumber(member(node, key));
}

static double number(const cJSON *node, const char *key)
{
	return has_number(node, key) ? member(node, key)->valuedouble : 0;
}

static bool in_order(double low, double high)
{
	return low <= high + SLACK * (1 + fabs(low) + fabs(high));
}

static bool alike(double a, double b)
{
	return in_order(a, b) && in_order(b, a);
}

static void hold(bool claim, const cJSON *node, const char *why)
{
	if (!claim) {
		char *text = cJSON_Print(node);
		(void)fprintf(stderr, "%s: %.4000s\n", why, text != NULL ? text : "");
		cJSON_free(text);
	}
	MUST(claim);
}

/* key: the name of the number, or of the nearest list or figure that it stands in. */
static void check_number(const cJSON *node, const char *key)
{
	const double value = node->valuedouble;
	MUST(isfinite(value));
	for (size_t i = 0; key != NULL && i < N_KEYS; i++)
		if (strcmp(key, KEYS[i].key) == 0)
			hold(in_order(KEYS[i].low, value) && in_order(value, KEYS[i].high), node,
				key);
}

static void check_range(const cJSON *node)
{
	if (has_number(node, "low") && has_number(node, "likely") && has_number(node, "high"))
		hold(in_order(number(node, "low"), number(node, "likely")) &&
				in_order(number(node, "likely"), number(node, "high")),
			node, "a range is out of order");
	if (has_number(node, "p50") && has_number(node, "p90"))
		hold(in_order(number(node, "p50"), number(node, "p90")) &&
				in_order(number(node, "p90"), number(node, "most")) &&
				in_order(number(node, "mean"), number(node, "most")),
			node, "a spread is out of order");
}

/* Each term of the balance of include/rigbudget/trip.h. */
static void check_energy(const cJSON *flows)
{
	static const char *const OUT[] = {"dc", "ac", "inverter_loss", "inverter_idle",
		"charge_loss", "self_discharge", "curtailed"};
	if (!has_number(flows, "from_store"))
		return;
	const double in = number(flows, "harvest") + number(flows, "from_store");
	double out = 0, moved = number(flows, "harvest") + fabs(number(flows, "from_store"));
	for (size_t i = 0; i < sizeof OUT / sizeof OUT[0]; i++) {
		hold(has_number(flows, OUT[i]) && number(flows, OUT[i]) >= -SLACK * (1 + moved),
			flows, OUT[i]);
		out += number(flows, OUT[i]);
		moved += fabs(number(flows, OUT[i]));
	}
	hold(fabs(in - out) <= SLACK * (1 + moved), flows, "energy is lost or made");
}

static void check_bank(const cJSON *bank)
{
	const cJSON *store = member(bank, "store_wh");
	const cJSON *left = member(bank, "left_wh");
	if (!cJSON_IsArray(store) || !cJSON_IsArray(left))
		return;
	const double whole = number(bank, "capacity_wh");
	hold(cJSON_GetArraySize(store) == cJSON_GetArraySize(left), bank, "an hour is missing");
	const cJSON *still = left->child;
	for (const cJSON *held = store->child; held != NULL && still != NULL; held = held->next) {
		hold(in_order(held->valuedouble, whole), bank, "a bank holds more than it can");
		hold(in_order(still->valuedouble, held->valuedouble), bank,
			"more can be drawn than there is");
		still = still->next;
	}
	hold(in_order(number(bank, "lowest_wh"), number(bank, "capacity_wh")), bank, "lowest_wh");
}

static void check_chance(const cJSON *chance)
{
	if (!has_number(chance, "never_out_frac") || !has_number(chance, "never_out_low"))
		return;
	hold(in_order(number(chance, "never_out_low"), number(chance, "never_out_frac")) &&
			in_order(
				number(chance, "never_out_frac"), number(chance, "never_out_high")),
		chance, "a chance outside its interval");
	double before = 0;
	const cJSON *by_day = member(chance, "out_by_day_frac");
	for (const cJSON *day = by_day == NULL ? NULL : by_day->child; day != NULL;
		day = day->next) {
		hold(in_order(before, day->valuedouble), chance, "who ran out is back");
		before = day->valuedouble;
	}
	hold(alike(before, 1 - number(chance, "never_out_frac")), chance,
		"who never runs out does by the last day");
}

static void check_shed_load(const cJSON *load)
{
	if (has_number(load, "withheld_wh_day"))
		hold(alike(number(load, "wanted_wh_day"),
			     number(load, "served_wh_day") + number(load, "withheld_wh_day")),
			load, "what is wanted is neither served nor withheld");
}

static bool says(const cJSON *node, const char *key, const char *word)
{
	const cJSON *said = member(node, key);
	return cJSON_IsString(said) && strcmp(said->valuestring, word) == 0;
}

/* The verdicts of include/rigbudget/shore.h. */
static void check_flow(const cJSON *flow)
{
	const cJSON *loaded = member(flow, "loaded_a");
	const double limit = number(flow, "limit_a");
	if (!cJSON_IsObject(loaded) || !has_number(flow, "limit_a") || limit <= 0)
		return;
	const bool within_high = in_order(number(loaded, "high"), limit);
	const bool within_likely = in_order(number(loaded, "likely"), limit);
	const bool draws_less = in_order(number(member(flow, "amps_a"), "likely"), limit);
	hold(!says(flow, "verdict", "fits") || within_high, flow, "fits, and is over its limit");
	hold(!says(flow, "verdict", "depends") || within_likely, flow, "depends, and is over");
	hold(!says(flow, "verdict", "over_continuous") || draws_less, flow,
		"over, and not only by continuous loads");
	hold(!says(flow, "verdict", "over") || !within_likely, flow,
		"over, and is within its limit");
}

static void check_budget(const cJSON *budget)
{
	if (!cJSON_IsBool(member(budget, "carried")))
		return;
	hold(!cJSON_IsTrue(member(budget, "carried")) || says(budget, "verdict", "fits"), budget,
		"carried, and does not fit");
	const cJSON *best = member(budget, "best");
	const cJSON *most = member(best, "most_loaded");
	if (cJSON_IsTrue(member(best, "proved")) && number(most, "limit_a") > 0)
		hold(in_order(number(member(most, "loaded_a"), "likely"), number(most, "limit_a")),
			budget, "what is kept does not fit");
}

static void check_object(const cJSON *node)
{
	check_range(node);
	check_energy(node);
	check_bank(node);
	check_chance(node);
	check_shed_load(node);
	check_flow(node);
	check_budget(node);
}

static void check_under(const cJSON *node, const char *key)
{
	if (cJSON_IsNumber(node))
		check_number(node, key);
	if (cJSON_IsObject(node))
		check_object(node);
	for (const cJSON *child = node->child; child != NULL; child = child->next) {
		const bool is_end =
			child->string != NULL && (strcmp(child->string, "low") == 0 ||
							 strcmp(child->string, "likely") == 0 ||
							 strcmp(child->string, "high") == 0);
		check_under(child, child->string == NULL || is_end ? key : child->string);
	}
}

void check_findings(const cJSON *findings)
{
	check_under(findings, NULL);
}
