/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/conductor.h"

#include <assert.h>
#include <math.h>

static const double PI = 3.14159265358979323846;

/* Standard annealed copper, [IEC-60028]: 58 MS/m and 0.393 % per kelvin at 20 C. */
static const double RHO20_OHM_MM2_PER_M = 1.0 / 58.0;
static const double ALPHA20_PER_K = 0.00393;

/* Both conductors of a metre of cable at 60 Hz, [NFPA-70] ch. 9 table 9, non-magnetic conduit,
 * about 0.05 ohm per 1000 ft each, from memory. */
static const double PAIR_REACTANCE_OHM_PER_M = 0.33e-3;

/* Gauges a shop stocks, thinnest first (common practice, no source); -3 is 4/0. */
static const int STOCKED_AWG[] = {18, 16, 14, 12, 10, 8, 6, 4, 2, 1, 0, -1, -2, -3};
enum { N_STOCKED = sizeof STOCKED_AWG / sizeof STOCKED_AWG[0] };

double rig_awg_area_mm2(int awg)
{
	assert(awg >= -3 && awg <= 40);
	const double diameter_mm = 0.127 * pow(92.0, (36 - awg) / 39.0);
	return PI / 4.0 * diameter_mm * diameter_mm;
}

double rig_run_ohm(const rig_run *run)
{
	assert(run->length_m > 0 && run->area_mm2 > 0);
	const double rho = RHO20_OHM_MM2_PER_M * (1.0 + ALPHA20_PER_K * (run->temp_c - 20.0));
	return 2.0 * run->length_m * rho / run->area_mm2;
}

double rig_run_drop_v(const rig_run *run, double current_a)
{
	assert(current_a >= 0);
	return current_a * rig_run_ohm(run);
}

double rig_run_ac_drop_v(const rig_run *run, rig_phasor load, double volts_v)
{
	assert(volts_v > 0);
	const double ohm = rig_run_ohm(run);
	const double reactance_ohm = PAIR_REACTANCE_OHM_PER_M * run->length_m;
	const double in_phase_a = load.active_w / volts_v, lagging_a = load.reactive_va / volts_v;
	const double along_v = in_phase_a * ohm + lagging_a * reactance_ohm;
	const double across_v = in_phase_a * reactance_ohm - lagging_a * ohm;
	return hypot(volts_v + along_v, across_v) - volts_v;
}

rig_status rig_run_choose_awg(const rig_run *run, double current_a, double limit_v, int *awg)
{
	assert(limit_v > 0);
	rig_run trial = *run;
	for (int i = 0; i < N_STOCKED; i++) {
		trial.area_mm2 = rig_awg_area_mm2(STOCKED_AWG[i]);
		if (rig_run_drop_v(&trial, current_a) <= limit_v) {
			*awg = STOCKED_AWG[i];
			return RIG_OK;
		}
	}
	return RIG_NO_SOLUTION;
}
