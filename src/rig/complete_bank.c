/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "rig/complete.h"
#include "rig/effective.h"

/* Share of the capacity lost a year (low, likely, high), common practice, no source: batteries are
 * counted as worn out at 80 % of their rating, lead-acid after 3 to 10 years, lithium iron
 * phosphate after 5 to 20. */
static const double LEAD_WEAR[3] = {0.02, 0.04, 0.07};
static const double LITHIUM_WEAR[3] = {0.01, 0.02, 0.04};
/* What may be left in a battery of unknown age that is still in service. */
static const double UNKNOWN_AGE_LEFT = 0.8;
static const double RESERVE_A = 25;

/* Charge over so many hours of a battery that gives 25 A for so many minutes, Ah, by Peukert's law
 * [PEUKERT-1897]: C = 25 t (H / t)^(1 - 1 / n), t the reserve in hours [SAE-J537]. */
static double reserve_ah(double minutes, double exponent, double hours)
{
	const double reserve_h = minutes / 60;
	return RESERVE_A * reserve_h * pow(hours / reserve_h, 1 - 1 / exponent);
}

static void capacity_of_reserve(rig_bank *bank)
{
	if (rig_figure_given(bank->capacity_ah) || !rig_figure_given(bank->reserve_minutes))
		return;
	const rig_figure minutes = bank->reserve_minutes, hours = bank->rating_h;
	rig_figure exponent = rig_figure_of(1, RIG_FROM_PROFILE);
	if (rig_figure_given(bank->peukert_exponent))
		exponent = bank->peukert_exponent;
	/* Rises with minutes, and with exponent and hours as long as the rating is the longer time.
	 */
	const double low = reserve_ah(minutes.low, exponent.low, hours.low);
	const double likely = reserve_ah(minutes.likely, exponent.likely, hours.likely);
	const double high = reserve_ah(minutes.high, exponent.high, hours.high);
	bank->capacity_ah =
		rig_figure_range(fmin(low, likely), likely, fmax(high, likely), minutes.from);
	bank->capacity_ah.source = "from the reserve minutes by Peukert's law";
}

/* Share of the rating that age has left. */
static rig_figure left_of(const rig_bank *bank, rig_figure capacity)
{
	const bool ideal = strcmp(bank->chemistry, "ideal") == 0;
	if (ideal || capacity.from == RIG_FROM_MEASURED)
		return rig_figure_of(1, RIG_FROM_PROFILE);
	if (!rig_figure_given(bank->age_years))
		return rig_figure_range(UNKNOWN_AGE_LEFT, 1, 1, RIG_FROM_PROFILE);
	const bool lithium = strncmp(bank->chemistry, "lithium", 7) == 0;
	const double *wear = lithium ? LITHIUM_WEAR : LEAD_WEAR;
	return rig_figure_range(pow(1 - wear[2], bank->age_years.high),
		pow(1 - wear[1], bank->age_years.likely), pow(1 - wear[0], bank->age_years.low),
		RIG_FROM_PROFILE);
}

static void add_up(rig_bank *bank)
{
	if (rig_figure_given(bank->capacity_wh)) {
		bank->total_wh =
			rig_figure_multiply(bank->capacity_wh, left_of(bank, bank->capacity_wh));
		bank->total_ah = rig_figure_divide(bank->total_wh, bank->nominal_v);
	} else {
		const rig_figure rated = rig_figure_scale(bank->capacity_ah, bank->parallel);
		bank->total_ah = rig_figure_multiply(rated, left_of(bank, bank->capacity_ah));
		bank->total_wh = rig_figure_multiply(bank->total_ah, bank->nominal_v);
	}
	bank->usable_wh = rig_figure_multiply(bank->total_wh, bank->usable_frac);
}

void rig_complete_bank(rig_bank *bank)
{
	const rig_chemistry *kind = rig_chemistry_find(bank->chemistry);
	bank->kind = kind;
	bank->role = rig_role_of(bank);
	if (bank->name == NULL)
		bank->name = bank->id;
	rig_fill_from_table(RIG_OBJECT_BANK, bank);
	rig_fill(&bank->nominal_v, rig_figure_of(kind->cell_group_v, RIG_FROM_PROFILE),
		kind->source);
	rig_fill(&bank->usable_frac, kind->usable_frac, kind->source);
	rig_fill(&bank->charge_efficiency_frac, kind->charge_efficiency_frac, kind->source);
	rig_fill(&bank->self_discharge_frac_month, kind->self_discharge_frac_month, kind->source);
	rig_fill(&bank->peukert_exponent, kind->peukert_exponent, kind->source);
	rig_fill(&bank->kinetic_c_frac, kind->kinetic_c_frac, kind->source);
	rig_fill(&bank->kinetic_k_per_h, kind->kinetic_k_per_h, kind->source);
	capacity_of_reserve(bank);
	add_up(bank);
	if (rig_figure_given(kind->bulk_limit_c_rate))
		rig_fill(&bank->charge_limit_a,
			rig_figure_multiply(bank->total_ah, kind->bulk_limit_c_rate), kind->source);
}
