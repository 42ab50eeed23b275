/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/profile.h"

#include <cjson/cJSON.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "outside.h"
#include "suites.h"

#define SECTION "supplies; breakers; conductors"

static void check_figure(const char *id, rig_figure figure, double low, double high)
{
	ck_assert_msg(figure.from == RIG_FROM_PROFILE, "%s", id);
	ck_assert_msg(figure.low <= figure.likely && figure.likely <= figure.high, "%s", id);
	ck_assert_msg(figure.low >= low && figure.high <= high, "%s", id);
}

START_TEST(every_appliance_is_sane)
{
	ck_assert_uint_ge(rig_n_appliances(), 86);
	for (size_t i = 0; i < rig_n_appliances(); i++) {
		const rig_appliance *a = rig_appliance_at(i);
		ck_assert_ptr_eq(rig_appliance_find(a->id), a);
		ck_assert_msg(a->label[0] != '\0' && a->source[0] != '\0', "%s", a->id);
		check_figure(a->id, a->running_w, 0.01, 3000);
		check_figure(a->id, a->power_factor, 0.4, 1);
		check_figure(a->id, a->duty_frac, 0.01, 1);
		check_figure(a->id, a->daily_use_h, 0.001, 24);
		ck_assert_msg(a->priority >= 1 && a->priority <= 9, "%s", a->id);
		ck_assert(a->supply == RIG_AC || a->supply == RIG_DC);
		ck_assert(a->volts_v == (a->supply == RIG_AC ? 120 : 12));
		if (a->supply == RIG_DC)
			ck_assert_msg(a->power_factor.likely == 1, "%s", a->id);
		if (a->behaviour == RIG_RESISTIVE)
			ck_assert_msg(a->power_factor.likely >= 0.98, "%s", a->id);
		/* nothing on a 120 V cord passes a 20 A circuit while it runs */
		if (a->supply == RIG_AC)
			ck_assert_msg(
				a->running_w.likely / a->power_factor.likely <= 2400, "%s", a->id);
		if (rig_figure_given(a->start_a)) {
			/* a start draws no less than what runs, and at most ten times it */
			const double amps =
				a->running_w.likely / a->volts_v / a->power_factor.likely;
			ck_assert_msg(a->start_a.high >= 0.95 * amps, "%s", a->id);
			ck_assert_msg(a->start_a.low <= 10 * amps, "%s", a->id);
		}
		if (a->always_on)
			ck_assert_msg(a->daily_use_h.likely == 24 && a->running_w.likely < 15 &&
					      !a->shed_first,
				"%s", a->id);
	}
}
END_TEST

/* Figures read in documents, on which rows rest; the rest of a row's range is trade knowledge. */
static const outside_series NAMEPLATE = {"appliances",
	"Highest running watts of a roof unit, its rated amps at 115 V",
	"a roof unit's data sheet: 12.7 and 13.2 A of compressor, 2.8 A of fan; read",
	"5 W, to which the table rounds"};
static const outside_series LOCKED = {
	"appliances", "Locked-rotor amps of a roof unit", "the same data sheet; read", "exact"};
static const outside_series COOKING = {"appliances", "Watts into a microwave that cooks with 800 W",
	"a technical article; read", "exact"};
static const outside_series OFF_LOW = {
	"appliances", "Watts while off, least", "[FSEC-PF344] table 1; read", "exact"};
static const outside_series OFF_MEAN = {
	"appliances", "Watts while off, mean", "[FSEC-PF344] table 1; read", "exact"};
static const outside_series OFF_MOST = {
	"appliances", "Watts while off, most", "[FSEC-PF344] table 1; read", "exact"};
static const outside_series HOUSEHOLD = {"appliances",
	"Household watts, the end that the list gives", "[DOE-WATTS]; read in reprints", "exact"};

enum { LOW, LIKELY, HIGH };

static const struct {
	const outside_series *series;
	const char *id;
	int end;
	double watts_w, tol;
} READ[] = {
	{&NAMEPLATE, "roof_ac_13k5", HIGH, 15.5 * 115, 5},
	{&NAMEPLATE, "roof_ac_15k", HIGH, 16.0 * 115, 5},
	{&COOKING, "microwave_800", LIKELY, 1200, 0},
	{&OFF_LOW, "microwave_clock", LOW, 1.5, 0},
	{&OFF_MEAN, "microwave_clock", LIKELY, 3.0, 0},
	{&OFF_MOST, "microwave_clock", HIGH, 6.0, 0},
	{&OFF_LOW, "disc_player_off", LOW, 1.6, 0},
	{&OFF_MEAN, "disc_player_off", LIKELY, 4.5, 0},
	{&OFF_MOST, "disc_player_off", HIGH, 7.1, 0},
	{&OFF_LOW, "audio_system_off", LOW, 1.3, 0},
	{&OFF_MEAN, "audio_system_off", LIKELY, 9.4, 0},
	{&OFF_MOST, "audio_system_off", HIGH, 29, 0},
	{&OFF_LOW, "clock_radio", LOW, 0.9, 0},
	{&OFF_MEAN, "clock_radio", LIKELY, 1.7, 0},
	{&OFF_MOST, "clock_radio", HIGH, 3.2, 0},
	{&HOUSEHOLD, "coffee_maker", LOW, 900, 0},
	{&HOUSEHOLD, "coffee_maker", HIGH, 1200, 0},
	{&HOUSEHOLD, "clothes_iron", LOW, 1000, 0},
	{&HOUSEHOLD, "clothes_iron", HIGH, 1800, 0},
	{&HOUSEHOLD, "fridge_frost_free_old", LIKELY, 725, 0},
};

START_TEST(rows_hold_the_figures_of_their_documents)
{
	const rig_appliance *a = rig_appliance_find(READ[_i].id);
	ck_assert_ptr_nonnull(a);
	const double watts_w[] = {a->running_w.low, a->running_w.likely, a->running_w.high};
	OUTSIDE(READ[_i].series, watts_w[READ[_i].end], READ[_i].watts_w, READ[_i].tol, "%s",
		READ[_i].id);
}
END_TEST

START_TEST(locked_rotor_amps_are_the_data_sheets)
{
	OUTSIDE(&LOCKED, rig_appliance_find("roof_ac_13k5")->start_a.likely, 68, 0, "13,500 BTU/h");
	OUTSIDE(&LOCKED, rig_appliance_find("roof_ac_15k")->start_a.likely, 70, 0, "15,000 BTU/h");
}
END_TEST

START_TEST(an_unknown_id_finds_nothing)
{
	ck_assert_ptr_null(rig_appliance_find("roof_ac"));
	ck_assert_ptr_null(rig_chemistry_find("Flooded"));
	ck_assert_ptr_null(rig_panel_kind_find(""));
	ck_assert_ptr_null(rig_supply_find("100A"));
}
END_TEST

static const outside_series POWER = {SECTION, "Power of a supply, VA",
	"[NFPA-70] art. 551; 20 and 30 A second-hand, 12,000 VA in trade articles", "exact"};
static const struct {
	const char *id;
	double va;
} SUPPLY[] = {{"50A", 12000}, {"30A", 3600}, {"20A", 2400}, {"15A", 1800}};

START_TEST(supplies_stand_largest_first_with_their_power)
{
	const rig_supply *s = rig_supply_find(SUPPLY[_i].id);
	ck_assert_uint_eq(rig_n_supplies(), COUNT(SUPPLY));
	ck_assert_ptr_eq(s, rig_supply_at((size_t)_i));
	OUTSIDE(&POWER, s->breaker_a * s->volts_v * s->n_hots, SUPPLY[_i].va, 0, "%s",
		SUPPLY[_i].id);
}
END_TEST

/* Amp-hours of the two-well model at a steady current that empties it in so many hours, over those
 * of both wells: [MANWELL-1993]. */
static double kinetic_share(double c, double k, double h)
{
	const double x = exp(-k * h);
	return k * c * h / (1 - x + c * (k * h - 1 + x));
}

START_TEST(two_wells_follow_peukert_down_from_the_rated_hours)
{
	static const outside_series FOLLOWS = {"batteries",
		"Two wells of a chemistry off Peukert's law with its exponent, 2 to 20 h, percent",
		"[MANWELL-1993] and [PEUKERT-1897]", "1.5 %, two shapes of one curve"};
	double worst = 0;
	static const double HOURS[] = {2, 5, 10, 20};
	const rig_chemistry *chemistry = rig_chemistry_at((size_t)_i);
	const double c = chemistry->kinetic_c_frac.likely;
	const double k = chemistry->kinetic_k_per_h.likely;
	const double exponent = chemistry->peukert_exponent.likely;
	for (int i = 0; i < COUNT(HOURS); i++) {
		const double by_law = pow(HOURS[i] / 20, (exponent - 1) / exponent);
		const double by_wells = kinetic_share(c, k, HOURS[i]) / kinetic_share(c, k, 20);
		worst = fmax(worst, 100 * fabs(by_wells / by_law - 1));
	}
	OUTSIDE_WORST(&FOLLOWS, worst, 1.5, "worst, %s", chemistry->id);
}
END_TEST

START_TEST(every_chemistry_is_sane)
{
	const rig_chemistry *chemistry = rig_chemistry_at((size_t)_i);
	const char *id = chemistry->id;
	ck_assert_ptr_eq(rig_chemistry_find(id), chemistry);
	ck_assert(chemistry->source[0] != '\0' && chemistry->label[0] != '\0');
	check_figure(id, chemistry->usable_frac, 0.1, 1);
	check_figure(id, chemistry->charge_efficiency_frac, 0.7, 1);
	/* flooded 4 to 8 % a month, sealed and lithium 1 to 3 %: common practice, no source */
	check_figure(id, chemistry->self_discharge_frac_month, 0, 0.1);
	/* the exponents of kinds: 1.00 (lithium) to 1.3 (flooded, deep cycle) */
	check_figure(id, chemistry->peukert_exponent, 1, 1.3);
	check_figure(id, chemistry->kinetic_c_frac, 0.2, 1);
	check_figure(id, chemistry->kinetic_k_per_h, 0.2, 1);
}
END_TEST

/* What the trade gives for a chemistry, least and most. */
static const outside_series KEPT = {"batteries",
	"Share of the charging energy that a chemistry keeps",
	"common practice, no source: flooded 0.80 to 0.85, lithium iron phosphate 0.95; from "
	"memory",
	"within it"};
static const outside_series FADES = {"batteries", "Self-discharge in a month at 25 C, likely",
	"common practice, no source: flooded 4 to 8 %, AGM and lithium iron phosphate 1 to 3 %; "
	"from "
	"memory",
	"within it"};
static const outside_series TAKES = {"batteries", "Charging amps over amp-hours, likely",
	"common practice, no source: flooded 0.1 to 0.25, AGM 0.2 to 0.4, lithium iron phosphate "
	"0.2 "
	"to 0.5; from memory",
	"within it"};
static const struct {
	const char *id;
	double kept[2], fades[2], takes[2];
} CHEMISTRY[] = {
	{"flooded", {0.80, 0.85}, {0.04, 0.08}, {0.1, 0.25}},
	{"agm", {0, 0}, {0.01, 0.03}, {0.2, 0.4}},
	{"lithium_iron_phosphate", {0.95, 0.95}, {0.01, 0.03}, {0.2, 0.5}},
};

START_TEST(chemistries_are_as_the_trade_has_them)
{
	const char *id = CHEMISTRY[_i].id;
	const rig_chemistry *chemistry = rig_chemistry_find(id);
	ck_assert_ptr_nonnull(chemistry);
	if (CHEMISTRY[_i].kept[1] > 0)
		OUTSIDE_WITHIN(&KEPT, chemistry->charge_efficiency_frac.likely,
			CHEMISTRY[_i].kept[0], CHEMISTRY[_i].kept[1], "%s", id);
	OUTSIDE_WITHIN(&FADES, chemistry->self_discharge_frac_month.likely, CHEMISTRY[_i].fades[0],
		CHEMISTRY[_i].fades[1], "%s", id);
	OUTSIDE_WITHIN(&TAKES, chemistry->bulk_limit_c_rate.likely, CHEMISTRY[_i].takes[0],
		CHEMISTRY[_i].takes[1], "%s", id);
}
END_TEST

START_TEST(an_old_refrigerator_runs_a_third_of_the_time)
{
	static const outside_series DUTY = {"appliances",
		"Share of the time that a household refrigerator runs at full watts",
		"[DOE-WATTS]: about one third; read in reprints", "half of a hundredth"};
	OUTSIDE(&DUTY, rig_appliance_find("fridge_frost_free_old")->duty_frac.likely, 0.33, 0.005,
		"fridge_frost_free_old");
}
END_TEST

START_TEST(an_ideal_battery_has_no_loss_and_no_limit)
{
	const rig_chemistry *ideal = rig_chemistry_find("ideal");
	ck_assert_double_eq(ideal->usable_frac.low, 1);
	ck_assert_double_eq(ideal->charge_efficiency_frac.low, 1);
	ck_assert_double_eq(ideal->self_discharge_frac_month.high, 0);
	ck_assert_double_eq(ideal->kinetic_c_frac.low, 1);
	ck_assert_double_eq(ideal->peukert_exponent.high, 1);
	ck_assert_double_eq(ideal->capacity_per_k_frac, 0);
	ck_assert(!rig_figure_given(ideal->bulk_limit_c_rate));
	ck_assert_double_lt(ideal->charge_floor_c, -200);
}
END_TEST

START_TEST(only_lithium_iron_phosphate_has_a_floor_to_charging)
{
	for (size_t i = 0; i < rig_n_chemistries(); i++) {
		const rig_chemistry *chemistry = rig_chemistry_at(i);
		const bool lithium = strcmp(chemistry->id, "lithium_iron_phosphate") == 0;
		static const outside_series FLOOR = {"batteries", "Coldest that may be charged, C",
			"makers' common limit; read in a charger maker's technical note", "exact"};
		if (lithium)
			OUTSIDE(&FLOOR, chemistry->charge_floor_c, 0, 0, "lithium iron phosphate");
		else
			ck_assert_double_eq(chemistry->charge_floor_c, -273);
	}
}
END_TEST

static const outside_series COLDER = {"batteries",
	"Capacity of a flooded bank in the cold, the straight line of the profile",
	"[IEEE-485] table 1, one over its factors; from memory", "0.03, a line through a curve"};
static const struct {
	double fahrenheit, factor;
} COLD[] = {{77, 1.00}, {60, 1.11}, {40, 1.30}, {25, 1.52}};

START_TEST(lead_loses_capacity_in_the_cold_as_in_ieee_485)
{
	const double below_k = (77 - COLD[_i].fahrenheit) / 1.8;
	const double left = 1 - rig_chemistry_find("flooded")->capacity_per_k_frac * below_k;
	OUTSIDE(&COLDER, left, 1 / COLD[_i].factor, 0.03, "%g F", COLD[_i].fahrenheit);
}
END_TEST

START_TEST(every_panel_kind_is_sane)
{
	const rig_panel_kind *kind = rig_panel_kind_at((size_t)_i);
	ck_assert_ptr_eq(rig_panel_kind_find(kind->id), kind);
	ck_assert(kind->source[0] != '\0' && kind->label[0] != '\0');
	check_figure(kind->id, kind->density_wm2, 50, 230);
	/* -0.5 to -0.2 % a kelvin: crystalline to amorphous, from memory */
	check_figure(kind->id, kind->temp_coefficient_per_k, -0.005, -0.002);
	check_figure(kind->id, kind->noct_c, 43, 49);
	check_figure(kind->id, kind->roof_rise_k, 0, 17);
}
END_TEST

START_TEST(crystalline_glass_has_the_trades_power_density)
{
	static const outside_series DENSITY = {"panels", "Power of a whole crystalline panel, W/m2",
		"common practice, no source: 130 to 220 by age and kind", "exact"};
	const rig_panel_kind *kind = rig_panel_kind_find("crystalline");
	OUTSIDE(&DENSITY, kind->density_wm2.low, 130, 0, "low");
	OUTSIDE(&DENSITY, kind->density_wm2.high, 220, 0, "high");
	ck_assert_double_lt(rig_panel_kind_find("thin_film")->density_wm2.high, 130);
}
END_TEST

/* Stranded uncoated copper at 75 C; ampacity of a single conductor of 105 C at 12 V; amps of copper
 * at 60, 75 and 90 C. */
static const outside_series RESISTANCE = {SECTION,
	"Stranded copper of the profile at 75 C, ohm per 1,000 ft",
	"[NFPA-70] ch. 9 table 8; 14 to 8 from memory, the rest read in a reprint", "exact"};
static const outside_series SMALL = {SECTION, "Largest protection of a small conductor, A",
	"[NFPA-70] 240.4(D); read in a wire maker's note", "exact"};
static const outside_series AT_12_V = {SECTION, "Amps of a single conductor of 105 C at 12 V",
	"[ABYC-E11] by analogy; read in reprints", "exact"};
static const outside_series IN_CABLE = {SECTION, "Amps of copper at 60, 75 and 90 C",
	"[NFPA-70] table 310.16; from memory", "exact"};
static const struct {
	const char *name;
	int awg;
	double ohm_per_1000_ft, limit_a, at_12v_a, in_cable_a[3];
} WIRE[] = {
	{"14", 14, 3.14, 15, 35, {15, 20, 25}},
	{"12", 12, 1.98, 20, 45, {20, 25, 30}},
	{"10", 10, 1.24, 30, 60, {30, 35, 40}},
	{"8", 8, 0.778, 0, 80, {40, 50, 55}},
	{"6", 6, 0.491, 0, 120, {55, 65, 75}},
	{"4", 4, 0.308, 0, 160, {70, 85, 95}},
	{"2", 2, 0.194, 0, 210, {0, 115, 0}},
	{"1/0", 0, 0.122, 0, 285, {0, 0, 0}},
	{"2/0", -1, 0.0967, 0, 330, {0, 0, 0}},
	{"4/0", -3, 0.0608, 0, 445, {0, 0, 0}},
};

START_TEST(conductors_hold_the_codes_figures)
{
	const rig_conductor_size *size = NULL;
	for (size_t i = 0; i < rig_n_conductor_sizes(); i++)
		if (rig_conductor_size_at(i)->awg == WIRE[_i].awg)
			size = rig_conductor_size_at(i);
	ck_assert_ptr_nonnull(size);
	const char *name = WIRE[_i].name;
	const double in_cable_a[] = {
		size->ampacity_60c_a, size->ampacity_75c_a, size->ampacity_90c_a};
	OUTSIDE(&RESISTANCE, size->ohm_per_km_75c * 0.3048, WIRE[_i].ohm_per_1000_ft, 1e-9,
		"%s AWG", name);
	if (WIRE[_i].limit_a > 0)
		OUTSIDE(&SMALL, size->small_conductor_limit_a, WIRE[_i].limit_a, 0, "%s AWG", name);
	else
		ck_assert_double_eq(size->small_conductor_limit_a, 0);
	OUTSIDE(&AT_12_V, size->ampacity_105c_12v_a, WIRE[_i].at_12v_a, 0, "%s AWG", name);
	for (int i = 0; i < 3; i++)
		if (WIRE[_i].in_cable_a[i] > 0)
			OUTSIDE(&IN_CABLE, in_cable_a[i], WIRE[_i].in_cable_a[i], 0, "%s AWG, %d C",
				name, 60 + 15 * i);
}
END_TEST

START_TEST(thicker_conductors_carry_more)
{
	for (size_t i = 1; i < rig_n_conductor_sizes(); i++) {
		const rig_conductor_size *thin = rig_conductor_size_at(i - 1);
		const rig_conductor_size *thick = rig_conductor_size_at(i);
		ck_assert_int_lt(thick->awg, thin->awg);
		ck_assert_double_gt(thick->area_mm2, thin->area_mm2);
		ck_assert_double_lt(thick->ohm_per_km_75c, thin->ohm_per_km_75c);
		ck_assert(thick->ampacity_90c_a > thin->ampacity_90c_a);
		ck_assert(thick->ampacity_105c_12v_a > thin->ampacity_105c_12v_a);
		ck_assert(thick->ampacity_60c_a == 0 ||
			  thick->ampacity_60c_a < thick->ampacity_75c_a);
	}
}
END_TEST

static const outside_series RATINGS = {SECTION, "Standard ratings of breakers, A",
	"[NFPA-70] 240.6(A); read in reprints", "exact"};
static const double BREAKERS[] = {15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125,
	150, 175, 200, 225, 250, 300, 350, 400, 450, 500, 600};

START_TEST(breakers_come_in_the_codes_ratings)
{
	int n = 0;
	double last = 0;
	for (size_t i = 0; i < rig_n_standard_ratings(); i++) {
		const rig_standard_rating *rating = rig_standard_rating_at(i);
		ck_assert_double_gt(rating->rating_a, last);
		last = rating->rating_a;
		ck_assert(rating->fuse);
		if (rating->breaker) {
			OUTSIDE(&RATINGS, rating->rating_a, BREAKERS[n], 0, "%d", n + 1);
			n++;
		}
	}
	ck_assert_int_eq(n, COUNT(BREAKERS));
}
END_TEST

/* ---- against the figures beside the checkout ---- */

static void check_range(const char *id, const cJSON *source, rig_figure ours)
{
	ck_assert_msg(cJSON_GetObjectItem(source, "low")->valuedouble == ours.low, "%s", id);
	ck_assert_msg(cJSON_GetObjectItem(source, "typical")->valuedouble == ours.likely, "%s", id);
	ck_assert_msg(cJSON_GetObjectItem(source, "high")->valuedouble == ours.high, "%s", id);
}

START_TEST(the_table_carries_every_figure_of_its_source)
{
	FILE *file = fopen(RIG_SOURCE_DIR "/../shared/data/appliances.json", "rb");
	if (file == NULL) {
		(void)printf("skipped: no data folder beside the checkout\n");
		return;
	}
	static char text[200000];
	const size_t n = fread(text, 1, sizeof text - 1, file);
	ck_assert_uint_gt(n, 1000);
	(void)fclose(file);
	cJSON *list = cJSON_Parse(text);
	ck_assert_int_gt(cJSON_GetArraySize(list), 80);
	for (const cJSON *source = list->child; source != NULL; source = source->next) {
		const char *id = cJSON_GetObjectItem(source, "id")->valuestring;
		const rig_appliance *a = rig_appliance_find(id);
		ck_assert_msg(a != NULL, "%s", id);
		check_range(id, cJSON_GetObjectItem(source, "watts"), a->running_w);
		check_range(id, cJSON_GetObjectItem(source, "duty"), a->duty_frac);
		ck_assert(cJSON_GetObjectItem(source, "hours_per_day")->valuedouble ==
			  a->daily_use_h.likely);
		ck_assert(cJSON_IsTrue(cJSON_GetObjectItem(source, "continuous")) == a->continuous);
		const cJSON *factor = cJSON_GetObjectItem(source, "power_factor");
		ck_assert((factor == NULL ? 1 : factor->valuedouble) == a->power_factor.likely);
		const cJSON *start = cJSON_GetObjectItem(source, "start_amps");
		ck_assert((start == NULL ? 0 : start->valuedouble) == a->start_a.likely);
	}
	cJSON_Delete(list);
}
END_TEST

Suite *profile_suite(void);
Suite *profile_suite(void)
{
	Suite *suite = suite_create("profile");
	TCase *all = tcase_create("all");
	const int n_chemistries = (int)rig_n_chemistries();
	tcase_add_test(all, every_appliance_is_sane);
	tcase_add_loop_test(all, rows_hold_the_figures_of_their_documents, 0, COUNT(READ));
	tcase_add_test(all, locked_rotor_amps_are_the_data_sheets);
	tcase_add_test(all, an_unknown_id_finds_nothing);
	tcase_add_loop_test(all, supplies_stand_largest_first_with_their_power, 0, COUNT(SUPPLY));
	tcase_add_loop_test(
		all, two_wells_follow_peukert_down_from_the_rated_hours, 0, n_chemistries);
	tcase_add_loop_test(all, every_chemistry_is_sane, 0, n_chemistries);
	tcase_add_loop_test(all, chemistries_are_as_the_trade_has_them, 0, COUNT(CHEMISTRY));
	tcase_add_test(all, an_old_refrigerator_runs_a_third_of_the_time);
	tcase_add_test(all, an_ideal_battery_has_no_loss_and_no_limit);
	tcase_add_test(all, only_lithium_iron_phosphate_has_a_floor_to_charging);
	tcase_add_loop_test(all, lead_loses_capacity_in_the_cold_as_in_ieee_485, 0, COUNT(COLD));
	tcase_add_loop_test(all, every_panel_kind_is_sane, 0, (int)rig_n_panel_kinds());
	tcase_add_test(all, crystalline_glass_has_the_trades_power_density);
	tcase_add_loop_test(all, conductors_hold_the_codes_figures, 0, COUNT(WIRE));
	tcase_add_test(all, thicker_conductors_carry_more);
	tcase_add_test(all, breakers_come_in_the_codes_ratings);
	tcase_add_test(all, the_table_carries_every_figure_of_its_source);
	suite_add_tcase(suite, all);
	return suite;
}
