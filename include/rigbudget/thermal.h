/* SPDX-License-Identifier: GPL-3.0-or-later */
/* thermal.h: rooms, tanks and cabinets as one warmth each that drifts towards a level.
 * Knows heat capacities, losses and flows; knows no appliance, no weather and no clock.
 * With constant inputs every answer is exact, so that a simulation may step from event to event. */
#ifndef RIG_THERMAL_H
#define RIG_THERMAL_H

/* Something of one temperature that gains and loses heat:
 *   capacity dT/dt = loss (surroundings - T) + heat + c flow (inflow - T) */
typedef struct {
	double capacity_j_per_k; /* > 0 */
	double loss_w_per_k;     /* to the surroundings, >= 0 */
} rig_warm_body;

/* What acts on it for a while. */
typedef struct {
	double surroundings_c;
	double heat_w;   /* put in; negative when taken out */
	double flow_l_s; /* water drawn and made up at inflow_c, >= 0; 0 for a room */
	double inflow_c;
} rig_heat_inputs;

/* The course of a temperature under constant inputs: T(t) = toward + (T0 - toward) e^(-rate t);
 * rate 0 with a slope is the case without any loss. */
typedef struct {
	double toward_c;
	double rate_per_s; /* >= 0 */
	double slope_k_s;  /* read when rate is 0: T(t) = T0 + slope t */
} rig_warmth_course;

/* Heat that a litre of water takes up, J/K: 4186 at 15 C and 1 kg a litre [CRC-2014]. */
extern const double RIG_WATER_J_PER_L_K;

/* The course of a body under steady inputs. */
rig_warmth_course rig_warmth_course_of(const rig_warm_body *body, const rig_heat_inputs *inputs);

/* Temperature after a time, C. seconds >= 0 */
double rig_warmth_after_c(const rig_warmth_course *course, double from_c, double seconds);

/* Time until a temperature is reached, s: 0 if it stands there, INFINITY if the course leads away
 * from it or ends short of it. */
double rig_warmth_reach_s(const rig_warmth_course *course, double from_c, double threshold_c);

/* Integral of how far the temperature is above a threshold over a time, K s; time below counts 0.
 * For degree-hours below a threshold see rig_warmth_below_k_s. */
double rig_warmth_above_k_s(
	const rig_warmth_course *course, double from_c, double threshold_c, double seconds);
double rig_warmth_below_k_s(
	const rig_warmth_course *course, double from_c, double threshold_c, double seconds);

/* A coach's box as a body, from its floor: 2.4 m wide, 2.1 m high, 1.7 W/m2K over walls, roof,
 * floor and windows together and half an air change an hour; 40 kJ/K for each m2 of floor (common
 * practice, no source; a well insulated one loses a third less).
 *   length_m   > 0 */
rig_warm_body rig_coach_body(double length_m);

/* A water heater's tank with its water: losses 0.35 W/K and 0.033 W/K a litre, so that 38 l at 60 C
 * in 20 C lose 64 W (common practice, no source).
 *   litres   > 0 */
rig_warm_body rig_tank_body(double litres);

#endif
