/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rooms, tanks and cabinets, and the thermostats in them (common practice, no source, all of it).
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "studies/shed_coach.h"

static const double HOUR_S = 3600.0;

/* Heat moved for each watt: a roof unit takes out 2.6, three quarters of it from the air and not
 * from its moisture (13,500 BTU/h at 1,500 W); a heat pump brings 2.5. */
static const double COOLING_RATIO = 2.6 * 0.75, PUMP_RATIO = 2.5;
/* Thermostats: set point, half the band, the next heater's lag, comfort band. */
static const double COOL_SET_C = 24.0, HEAT_SET_C = 20.5, HALF_BAND_K = 0.5, STAGE_K = 0.5,
		    COMFORT_K = 1.5;
/* A gas furnace is set lower and holds the coach when the heaters do not. */
static const double FURNACE_ON_C = 18.0, FURNACE_OFF_C = 19.0, BTU_H_W = 0.29307,
		    FURNACE_FRAC = 0.75;
/* Sun through windows and roof on a cooling and on a heating day, people and small things. */
static const double SUN_COOLING_W_M2 = 80.0, SUN_HEATING_W_M2 = 40.0, INSIDE_W = 200.0,
		    WIDTH_M = 2.4;

/* Discomfort, docs/method.md: points at middling priority for a kelvin-hour, a litre, and in a
 * refrigerator a kelvin-hour. */
static const double POINTS_K_H = 1.0, POINTS_LITRE = 0.1, POINTS_CABINET_K_H = 2.0;

static double guess_length_m(const rig_shed_findings *findings, size_t n_roof)
{
	const int cord_a = findings->coach->cord_a;
	if (n_roof > 1 || cord_a <= 0 || cord_a >= 50)
		return 11.0;
	return cord_a >= 30 ? 7.5 : 5.0;
}

static shed_body *add_body(shed_model *model, shed_body_kind kind, int leader)
{
	shed_body *body = &model->bodies[model->n_bodies++];
	*body = (shed_body){.kind = kind,
		.above_c = INFINITY,
		.below_c = -INFINITY,
		.cold_c = -INFINITY,
		.leader = leader,
		.unit = body->unit};
	return body;
}

static void join(shed_model *model, size_t u)
{
	shed_body *body = &model->bodies[model->n_bodies - 1];
	model->units[u].body = (int)model->n_bodies - 1;
	body->unit[body->n_units++] = (int)u;
}

/* ---- zones ---- */

static bool is_roof_unit(const rig_coach *coach, const shed_unit *unit)
{
	return unit->load >= 0 && shed_class_of(&coach->loads[unit->load]).cools;
}

static bool is_climate(const shed_unit *unit)
{
	return unit->behaviour == RIG_SHED_COOLS || unit->behaviour == RIG_SHED_HEATS;
}

/* Watts of heat while a unit runs. */
static double climate_w(const rig_coach *coach, const shed_unit *unit)
{
	if (unit->behaviour == RIG_SHED_COOLS)
		return -COOLING_RATIO * unit->watts_w;
	return is_roof_unit(coach, unit) ? PUMP_RATIO * unit->watts_w : unit->watts_w;
}

/* Which of the zones a unit is in: a roof unit its own, strip heat that of the roof unit on its
 * circuit, other heaters the first. */
static size_t zone_of(const rig_coach *coach, const shed_model *model, size_t u)
{
	const shed_unit *unit = &model->units[u];
	const rig_load *load = &coach->loads[unit->load];
	size_t zone = 0;
	for (size_t other = 0; other < model->n_units; other++) {
		const shed_unit *roof = &model->units[other];
		if (!is_roof_unit(coach, roof))
			continue;
		const int circuit = coach->loads[roof->load].circuit_index;
		if (other == u || (!is_roof_unit(coach, unit) && circuit >= 0 &&
					  circuit == load->circuit_index))
			return zone;
		zone++;
	}
	return 0;
}

/* Kept longest first, then the strongest. */
static bool leads(const rig_coach *coach, const shed_model *model, size_t a, size_t b)
{
	const int first = shed_priority_of(coach, model->units[a].load);
	const int second = shed_priority_of(coach, model->units[b].load);
	return first != second ? first < second : model->units[a].watts_w > model->units[b].watts_w;
}

static void set_thermostat(const rig_coach *coach, shed_unit *unit, double stage)
{
	const bool cools = unit->behaviour == RIG_SHED_COOLS;
	const double set_c = cools ? COOL_SET_C + stage * STAGE_K : HEAT_SET_C - stage * STAGE_K;
	unit->on_c = cools ? set_c + HALF_BAND_K : set_c - HALF_BAND_K;
	unit->off_c = cools ? set_c - HALF_BAND_K : set_c + HALF_BAND_K;
	unit->heat_w = climate_w(coach, unit);
}

/* The furnace's heat, W; 0 if there is none. Profiles are called by their input in 1,000 BTU/h. */
static double furnace_w(const rig_coach *coach)
{
	static const char START[] = "furnace_";
	double sum_w = 0;
	for (size_t i = 0; i < coach->n_loads; i++) {
		const rig_appliance *appliance = coach->loads[i].appliance;
		if (appliance && strncmp(appliance->id, START, sizeof START - 1) == 0)
			sum_w += (double)strtol(appliance->id + sizeof START - 1, NULL, 10) * 1000 *
				 BTU_H_W * FURNACE_FRAC;
	}
	return sum_w;
}

static void add_furnace(shed_model *model, double watts_w)
{
	const size_t u = model->n_units++;
	model->units[u] = (shed_unit){.load = SHED_NO_LOAD,
		.behaviour = RIG_SHED_HEATS,
		.group = -1,
		.heat_w = watts_w,
		.on_c = FURNACE_ON_C,
		.off_c = FURNACE_OFF_C};
	join(model, u);
}

static bool is_in_zone(const rig_coach *coach, const shed_model *model, size_t u, size_t zone)
{
	return is_climate(&model->units[u]) && zone_of(coach, model, u) == zone;
}

/* The unit that a zone's comfort is reckoned to; n_loads if nothing heats or cools it. */
static size_t leader_of(const rig_shed_findings *findings, const shed_model *model, size_t zone)
{
	const rig_coach *coach = findings->coach;
	size_t leader = findings->n_loads;
	for (size_t u = 0; u < findings->n_loads; u++)
		if (is_in_zone(coach, model, u, zone) &&
			(leader == findings->n_loads || leads(coach, model, u, leader)))
			leader = u;
	return leader;
}

/* Thermostats of a zone: the leader's is at the set point, each further one lags. */
static void fill_zone(
	const rig_shed_findings *findings, shed_model *model, shed_body *body, size_t zone)
{
	const rig_coach *coach = findings->coach;
	for (size_t u = 0; u < findings->n_loads; u++)
		if (is_in_zone(coach, model, u, zone))
			join(model, u);
	for (size_t i = 0; i < body->n_units; i++) {
		double stage = 0;
		for (size_t j = 0; j < body->n_units; j++)
			stage += leads(coach, model, (size_t)body->unit[j], (size_t)body->unit[i]);
		set_thermostat(coach, &model->units[body->unit[i]], stage);
	}
}

/* One zone with all that heats or cools it; nothing where nothing does. */
static void add_zone(rig_shed_findings *findings, shed_model *model, size_t zone, double share)
{
	const rig_coach *coach = findings->coach;
	const size_t leader = leader_of(findings, model, zone);
	if (leader == findings->n_loads)
		return;
	const bool cools = model->units[leader].behaviour == RIG_SHED_COOLS;
	shed_body *body = add_body(model, SHED_ZONE, (int)leader);
	const rig_warm_body whole = rig_coach_body(findings->length_m);
	body->warm = (rig_warm_body){whole.capacity_j_per_k * share, whole.loss_w_per_k * share};
	body->sun_share = share;
	body->points_k_s = POINTS_K_H * shed_weight_of(coach, model->units[leader].load) / HOUR_S;
	if (cools)
		body->above_c = COOL_SET_C + COMFORT_K;
	else
		body->below_c = HEAT_SET_C - COMFORT_K;
	fill_zone(findings, model, body, zone);
	if (!cools && furnace_w(coach) > 0)
		add_furnace(model, furnace_w(coach) * share);
}

static void add_zones(rig_shed_findings *findings, shed_model *model)
{
	const rig_coach *coach = findings->coach;
	const shed_climate climate = shed_climate_of(&findings->options);
	double sum_w = 0;
	size_t n_roof = 0;
	for (size_t u = 0; u < findings->n_loads; u++)
		if (is_roof_unit(coach, &model->units[u])) {
			n_roof++;
			sum_w += model->units[u].watts_w;
		}
	findings->length_m = findings->options.length_m;
	if (findings->length_m == 0) {
		findings->length_m = guess_length_m(findings, n_roof);
		findings->notes |= RIG_SHED_SIZE_GUESSED;
	}
	model->inside_w = INSIDE_W;
	model->sun_w = WIDTH_M * findings->length_m *
		       (climate.cools ? SUN_COOLING_W_M2 : SUN_HEATING_W_M2);
	size_t zone = 0;
	for (size_t u = 0; u < findings->n_loads; u++)
		if (is_roof_unit(coach, &model->units[u]))
			add_zone(findings, model, zone++,
				sum_w > 0 ? model->units[u].watts_w / sum_w : 1.0 / (double)n_roof);
	if (n_roof == 0)
		add_zone(findings, model, 0, 1);
	if (model->n_bodies == 0 && (climate.cools || climate.heats))
		findings->notes |= RIG_SHED_UNHEATED_BOX;
}

/* ---- water ---- */

/* Tanks of 10 and 6 gallons; two people's use, drawn at 3.6 l/min; thermostat; the bay about it;
 * mains water follows the year's weather. */
static const double TANK_LARGE_L = 37.85, TANK_SMALL_L = 22.71, LITRES_DAY = 62.0, FLOW_L_S = 0.06,
		    TANK_ON_C = 54.0, TANK_OFF_C = 60.0, BAY_C = 20.0, TOO_COLD_C = 40.0;

static void add_tank(rig_shed_findings *findings, shed_model *model, size_t u)
{
	const int cord_a = findings->coach->cord_a;
	shed_unit *unit = &model->units[u];
	shed_body *body = add_body(model, SHED_TANK, (int)u);
	body->warm = rig_tank_body(cord_a <= 0 || cord_a >= 50 ? TANK_LARGE_L : TANK_SMALL_L);
	body->surroundings_c = BAY_C;
	body->inflow_c = 10.5 + 0.3 * (model->low_c + model->high_c) / 2;
	body->cold_c = TOO_COLD_C;
	body->litres_day = LITRES_DAY;
	body->flow_l_s = FLOW_L_S;
	body->points_cold_l = POINTS_LITRE * shed_weight_of(findings->coach, unit->load);
	unit->heat_w = unit->watts_w;
	unit->on_c = TANK_ON_C;
	unit->off_c = TANK_OFF_C;
	join(model, u);
}

/* ---- refrigerators ---- */

/* Air that they are rated in, set points, heat moved for each watt, time from start to start. */
static const double RATED_AIR_C = 25.0, MILD_AIR_C = 22.0, COLD_AIR_C = 20.0, CABINET_ON_C = 5.0,
		    CABINET_OFF_C = 2.0, CABINET_TOO_WARM_C = 5.5, CABINET_RATIO = 1.5,
		    CYCLE_S = 2400.0;

/* A cabinet whose cooler runs for its duty in air of 25 C, and comes on every forty minutes. */
static void add_cabinet(rig_shed_findings *findings, shed_model *model, size_t u)
{
	shed_unit *unit = &model->units[u];
	const shed_climate climate = shed_climate_of(&findings->options);
	const double duty_frac = shed_end_of(findings->coach->loads[unit->load].duty_frac, 0, 0.5);
	const double cooler_w = CABINET_RATIO * unit->watts_w;
	const double band_k = CABINET_ON_C - CABINET_OFF_C;
	shed_body *body = add_body(model, SHED_CABINET, (int)u);
	body->warm.loss_w_per_k =
		duty_frac * cooler_w / (RATED_AIR_C - (CABINET_ON_C + CABINET_OFF_C) / 2);
	body->warm.capacity_j_per_k =
		CYCLE_S * cooler_w / (band_k * (1 / duty_frac + 1 / (1 - duty_frac)));
	body->surroundings_c = climate.cools   ? RATED_AIR_C
			       : climate.heats ? COLD_AIR_C
					       : MILD_AIR_C;
	body->above_c = CABINET_TOO_WARM_C;
	body->points_k_s =
		POINTS_CABINET_K_H * shed_weight_of(findings->coach, unit->load) / HOUR_S;
	unit->heat_w = -cooler_w;
	unit->on_c = CABINET_ON_C;
	unit->off_c = CABINET_OFF_C;
	join(model, u);
}

rig_status shed_bodies_of(rig_arena *arena, rig_shed_findings *findings, shed_model *model)
{
	const size_t room = findings->n_loads + 1;
	model->bodies = rig_arena_take(arena, room, sizeof *model->bodies);
	if (!model->bodies)
		return RIG_NO_MEMORY;
	for (size_t b = 0; b < room; b++) {
		model->bodies[b].unit = rig_arena_take(arena, room + 1, sizeof(int));
		if (!model->bodies[b].unit)
			return RIG_NO_MEMORY;
	}
	add_zones(findings, model);
	for (size_t u = 0; u < findings->n_loads; u++) {
		if (model->units[u].behaviour == RIG_SHED_WATER && model->units[u].watts_w > 0)
			add_tank(findings, model, u);
		if (model->units[u].behaviour == RIG_SHED_CABINET && model->units[u].watts_w > 0)
			add_cabinet(findings, model, u);
	}
	return RIG_OK;
}
