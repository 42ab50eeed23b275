/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold of days without hookups of any coach. */
#include <math.h>

#include "laws.h"
#include "rigbudget/trip.h"
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

static const law_row STAYS[] = {
	{"energy is conserved", energy_is_conserved, 500},
};

START_TEST(stays_of_any_coach_obey)
{
	laws_hold(STAYS, COUNT(STAYS), _i);
}
END_TEST

Suite *stay_laws_suite(void);
Suite *stay_laws_suite(void)
{
	Suite *suite = suite_create("stay_laws");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 600);
	tcase_add_loop_test(all, stays_of_any_coach_obey, 0, N_LAW_PARTS);
	suite_add_tcase(suite, all);
	return suite;
}
