/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/estimate.h"

#include <assert.h>
#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "rigbudget/battery.h"
#include "rigbudget/conductor.h"
#include "rigbudget/generator.h"

static const double PI = 3.14159265358979323846;

/* Deep-cycle lead-acid batteries by size of case [BCI-GROUPS]; Ah at 20 h over the makers on sale,
 * common practice. */
static const rig_battery_group GROUPS[] = {
	{"U1", 12, 28, 33, 38}, {"22NF", 12, 45, 52, 60}, {"24", 12, 65, 78, 88},
	{"27", 12, 82, 95, 110}, {"30H", 12, 95, 110, 130}, {"31", 12, 95, 108, 130},
	{"34", 12, 48, 56, 68}, {"65", 12, 60, 70, 80}, {"4D", 12, 150, 180, 210},
	{"6D", 12, 160, 185, 215}, {"8D", 12, 215, 245, 275}, {"GC2", 6, 180, 220, 260},
	{"GC8", 8, 145, 165, 190}, {"GC12", 12, 110, 145, 160},
	{"903", 6, 300, 370, 435}, /* tall: L16 */
};
enum { N_GROUPS = sizeof GROUPS / sizeof GROUPS[0] };

static rig_figure estimated(double low, double likely, double high, const char *source)
{
	rig_figure figure = rig_figure_range(low, likely, high, RIG_FROM_ESTIMATED);
	figure.source = source;
	return figure;
}

rig_figure rig_estimate_panel_w(double length_m, double width_m, const rig_panel_kind *kind)
{
	assert(length_m > 0 && width_m > 0);
	const rig_panel_kind *of = kind != NULL ? kind : rig_panel_kind_find("crystalline");
	const rig_figure density = of->density_wm2;
	const double area_m2 = length_m * width_m;
	return estimated(density.low * area_m2, density.likely * area_m2, density.high * area_m2,
		"size of the frame and kind of panel");
}

rig_panel_volts rig_estimate_panel_volts(int cells)
{
	assert(cells >= 1 && cells <= 200);
	const double n = cells;
	return (rig_panel_volts){.battery_v = cells >= 33 && cells <= 44   ? 12.0
					      : cells >= 66 && cells <= 88 ? 24.0
									   : 0.0,
		.vmp_v = estimated(0.46 * n, 0.50 * n, 0.58 * n, "cells counted"),
		.voc_v = estimated(0.57 * n, 0.61 * n, 0.70 * n, "cells counted")};
}

double rig_estimate_battery_v(int cells, const rig_chemistry *kind)
{
	assert(cells >= 1 && cells <= 48);
	return cells * (kind != NULL && kind->cell_group_v > 12.5 ? 3.2 : 2.0);
}

size_t rig_n_battery_groups(void)
{
	return N_GROUPS;
}

const rig_battery_group *rig_battery_group_at(size_t i)
{
	assert(i < N_GROUPS);
	return &GROUPS[i];
}

const rig_battery_group *rig_battery_group_find(const char *printed)
{
	const rig_battery_group *best = NULL;
	for (size_t i = 0; i < N_GROUPS; i++) {
		const size_t length = strlen(GROUPS[i].group);
		if (strcasecmp(printed, GROUPS[i].group) == 0)
			return &GROUPS[i];
		/* "31T" is 31, but "311" and "GC22" are nothing */
		if (strncasecmp(printed, GROUPS[i].group, length) == 0 &&
			isalpha((unsigned char)printed[length]) && printed[length + 1] == '\0' &&
			isdigit((unsigned char)GROUPS[i].group[length - 1]))
			best = &GROUPS[i];
	}
	return best;
}

rig_figure rig_estimate_ah_of_group(const rig_battery_group *group)
{
	return estimated(group->low_ah, group->likely_ah, group->high_ah,
		"group size of a deep-cycle lead-acid battery");
}

rig_figure rig_estimate_ah_of_reserve(double reserve_minutes)
{
	assert(reserve_minutes >= 1 && reserve_minutes <= 2000);
	const double ah[2] = {rig_reserve_rated_ah(reserve_minutes, 1.05, 20.0),
		rig_reserve_rated_ah(reserve_minutes, 1.3, 20.0)};
	return estimated(fmin(ah[0], ah[1]), rig_reserve_rated_ah(reserve_minutes, 1.17, 20.0),
		fmax(ah[0], ah[1]), "reserve minutes at 25 A");
}

rig_figure rig_estimate_ah_of_cranking(double amps, bool cold)
{
	assert(amps >= 10 && amps <= 5000);
	const double low_a = cold ? amps : amps / 1.3;
	const double high_a = cold ? amps : amps / 1.2;
	return estimated(0.07 * low_a, 0.11 * (low_a + high_a) / 2.0, 0.17 * high_a,
		cold ? "cold-cranking amps" : "marine cranking amps");
}

/* ---- conductors ---- */

static double area_at(size_t i)
{
	return rig_awg_area_mm2(rig_conductor_size_at(i)->awg);
}

/* The stocked gauge nearest to an area, on a scale of logarithms. */
static int nearest_awg(double area_mm2)
{
	size_t best = 0;
	for (size_t i = 1; i < rig_n_conductor_sizes(); i++)
		if (fabs(log(area_at(i) / area_mm2)) < fabs(log(area_at(best) / area_mm2)))
			best = i;
	return rig_conductor_size_at(best)->awg;
}

rig_status rig_estimate_gauge(double diameter_m, bool stranded, rig_gauge_guess *guess)
{
	assert(diameter_m >= 0.0005 && diameter_m <= 0.03);
	static const double SOLID[3] = {1.0, 1.0, 1.0};
	static const double STRANDED[3] = {0.62, 0.76, 0.79};
	static const double OFF[3] = {0.97, 1.0, 1.03};
	const double *filled = stranded ? STRANDED : SOLID;
	double area_mm2[3];
	for (int i = 0; i < 3; i++) {
		const double diameter_mm = diameter_m * 1000.0 * OFF[i];
		area_mm2[i] = PI / 4.0 * diameter_mm * diameter_mm * filled[i];
	}
	const size_t last = rig_n_conductor_sizes() - 1;
	/* one gauge beyond the table is a factor of 1.26 in area */
	if (area_mm2[2] * 1.12 < area_at(0) || area_mm2[0] > 1.12 * area_at(last))
		return RIG_NO_SOLUTION;
	*guess = (rig_gauge_guess){
		nearest_awg(area_mm2[0]), nearest_awg(area_mm2[1]), nearest_awg(area_mm2[2])};
	return RIG_OK;
}

static bool is_stocked(int awg)
{
	for (size_t i = 0; i < rig_n_conductor_sizes(); i++)
		if (rig_conductor_size_at(i)->awg == awg)
			return true;
	return false;
}

/* Digits and at most one point; gives where they end, or NULL. */
static const char *number_at(const char *at, double *value)
{
	double sum = 0.0;
	double unit = 1.0;
	bool point = false;
	int digits = 0;
	for (; isdigit((unsigned char)*at) || (*at == '.' && !point); at++) {
		point |= *at == '.';
		if (*at == '.')
			continue;
		sum = sum * 10.0 + (*at - '0');
		unit *= point ? 10.0 : 1.0;
		if (++digits > 6)
			return NULL;
	}
	*value = sum / unit;
	return digits > 0 ? at : NULL;
}

static bool gauge_of_mm2(double area_mm2, int *awg)
{
	bool found = false;
	/* a metric size is nominal: 4 % under its figure still counts */
	for (size_t i = 0; i < rig_n_conductor_sizes(); i++) {
		if (area_at(i) > area_mm2 * 1.04)
			continue;
		*awg = rig_conductor_size_at(i)->awg;
		found = true;
	}
	return found;
}

static const char *after_blanks(const char *at)
{
	return at + strspn(at, " #-");
}

/* What one number of a print says with what follows it. */
static bool gauge_here(const char *print, const char *at, int *awg)
{
	double number;
	const char *end = number_at(at, &number);
	if (end == NULL)
		return false;
	const char *rest = after_blanks(end);
	if (strncasecmp(rest, "mm", 2) == 0)
		return gauge_of_mm2(number, awg);
	if (number != floor(number) || number > 24.0)
		return false;
	const bool before = at - print >= 3 && strncasecmp(at - 3, "AWG", 3) == 0;
	const bool spaced = at - print >= 4 && strncasecmp(at - 4, "AWG", 3) == 0;
	const bool aught = end[0] == '/' && end[1] == '0';
	const bool cable = end[0] == '/' && end[1] >= '1' && end[1] <= '5';
	const bool after = strncasecmp(rest, "AWG", 3) == 0 || strncasecmp(rest, "ga", 2) == 0;
	if (!before && !spaced && !aught && !cable && !after && (at != print || *end != '\0'))
		return false;
	*awg = aught ? 1 - (int)number : (int)number;
	return is_stocked(*awg);
}

rig_status rig_estimate_gauge_of_print(const char *print, int *awg)
{
	int found = 0;
	for (const char *at = print; *at != '\0'; at++) {
		const bool inside = at > print && (isdigit((unsigned char)at[-1]) ||
							  at[-1] == '.' || at[-1] == '/');
		if (!inside && isdigit((unsigned char)*at) && gauge_here(print, at, &found)) {
			*awg = found;
			return RIG_OK;
		}
	}
	return RIG_NOT_FOUND;
}

/* ---- machines ---- */

rig_figure rig_estimate_refrigerator_w(double kwh_a_year)
{
	assert(kwh_a_year >= 50 && kwh_a_year <= 3000);
	static const double HOURS_A_YEAR_K = 8.76;
	const double mean_w = kwh_a_year / HOURS_A_YEAR_K;
	return estimated(0.8 * mean_w / 0.65, mean_w / 0.5, 1.2 * mean_w / 0.33,
		"kilowatt-hours a year of its label");
}

rig_figure rig_estimate_generator_w(double label_w, double elevation_m, double air_c)
{
	assert(label_w > 0);
	double least = 1.0;
	double most = 0.0;
	for (int rule = RIG_DERATE_UNSAID + 1; rule < RIG_N_DERATES; rule++) {
		const double left = rig_generator_left_frac((rig_derate)rule, elevation_m, air_c);
		least = fmin(least, left);
		most = fmax(most, left);
	}
	least = fmax(0.0, least);
	return estimated(label_w * least, label_w * (least + most) / 2.0, label_w * most,
		"label, height and heat by three makers' rules");
}
