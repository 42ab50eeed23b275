/* SPDX-License-Identifier: GPL-3.0-or-later */
/* claim_check.c: what a claim says by the keys that it has, and which keys belong to what. */
#include "rig/reader.h"

/* Bits, one for each thing that a claim can say. */
#define BIT(says) (1u << (says))

static unsigned all_said(const rig_claim *claim)
{
	const bool spans = rig_figure_given(claim->stay_days) || rig_figure_given(claim->runs_h);
	const struct {
		bool said;
		rig_claim_says says;
	} said[] = {
		{claim->supply != RIG_CLAIMED_UNSAID, RIG_SAYS_SUPPLY},
		{claim->source == RIG_POWER_SOLAR && !spans, RIG_SAYS_SUN_RUNS},
		{claim->storage == RIG_YES, RIG_SAYS_SUN_HOLDS},
		{rig_figure_given(claim->stay_days), RIG_SAYS_DAYS},
		{rig_figure_given(claim->runs_h), RIG_SAYS_HOURS},
		{rig_figure_given(claim->panel_w), RIG_SAYS_PANEL_W},
		{rig_figure_given(claim->usable_wh), RIG_SAYS_USABLE_WH},
		{rig_figure_given(claim->capacity_ah), RIG_SAYS_CAPACITY_AH},
	};
	unsigned all = 0;
	for (size_t i = 0; i < sizeof said / sizeof said[0]; i++)
		if (said[i].said)
			all |= BIT(said[i].says);
	/* "the sun keeps it charged in storage" may name the sun */
	if (all & BIT(RIG_SAYS_SUN_HOLDS))
		all &= ~BIT(RIG_SAYS_SUN_RUNS);
	return all;
}

rig_claim_says rig_claim_says_of(const rig_claim *claim)
{
	const unsigned all = all_said(claim);
	for (int says = RIG_SAYS_NOTHING + 1; says < RIG_N_SAYS; says++)
		if (all == BIT(says))
			return (rig_claim_says)says;
	return RIG_SAYS_NOTHING;
}

/* Which keys go with what: a bit for each. */
static const struct {
	const char *key;
	unsigned with;
} BELONGS[] = {
	{"loads", BIT(RIG_SAYS_SUPPLY) | BIT(RIG_SAYS_SUN_RUNS) | BIT(RIG_SAYS_DAYS) |
			  BIT(RIG_SAYS_HOURS)},
	{"source", BIT(RIG_SAYS_SUN_RUNS) | BIT(RIG_SAYS_SUN_HOLDS) | BIT(RIG_SAYS_DAYS) |
			   BIT(RIG_SAYS_HOURS)},
	{"bank", BIT(RIG_SAYS_SUN_HOLDS) | BIT(RIG_SAYS_USABLE_WH) | BIT(RIG_SAYS_CAPACITY_AH)},
	{"array", BIT(RIG_SAYS_PANEL_W)},
	{"from_month", BIT(RIG_SAYS_SUN_RUNS) | BIT(RIG_SAYS_SUN_HOLDS) | BIT(RIG_SAYS_DAYS) |
			       BIT(RIG_SAYS_HOURS)},
};

static void fault_at(rig_reader *reader, int record, const char *key, const rig_saying *saying)
{
	const rig_spot spot = {
		.record = record, .key = key == NULL ? NULL : rig_given_name(reader, record, key)};
	rig_say_fault(reader, &spot, saying);
}

static void check_one_thing(rig_reader *reader, int record, const rig_claim *claim)
{
	const bool none = all_said(claim) == 0;
	fault_at(reader, record, NULL,
		&(rig_saying){.what = none ? "the claim says nothing that can be checked"
					   : "the claim says several things at once",
			.allowed = "one of supply, source \"solar\", stay_days, runs_h, panel_w, "
				   "usable_wh, capacity_ah, storage",
			.mend = none ? "say with one of these what its words mean"
				     : "make one claim of each"});
}

static void check_power(rig_reader *reader, int record, const rig_claim *claim)
{
	const bool alone = claim->says == RIG_SAYS_HOURS;
	const bool wrong = (alone && claim->source == RIG_POWER_SOLAR) ||
			   (claim->storage == RIG_YES && claim->source == RIG_POWER_BATTERY);
	if (wrong)
		fault_at(reader, record, "source",
			&(rig_saying){.what = "the claim contradicts itself",
				.found = alone ? "runs_h beside solar" : "storage beside battery",
				.allowed = alone ? "runs_h is on the battery alone"
						 : "it is the solar that keeps a battery charged",
				.mend = alone ? "take out source, or say stay_days"
					      : "take out source"});
	if (alone && claim->n_loads == 0 && !rig_gives(reader, record, "loads"))
		fault_at(reader, record, "runs_h",
			&(rig_saying){.what = "there are no loads beside it",
				.allowed = "hours that certain loads run",
				.mend = "add \"loads\", or say \"stay_days\" for the daily use"});
}

static void check_months(rig_reader *reader, int record)
{
	const bool from = rig_gives(reader, record, "from_month");
	if (from == rig_gives(reader, record, "to_month"))
		return;
	fault_at(reader, record, from ? "from_month" : "to_month",
		&(rig_saying){.what = rig_words_of(reader, "there is no %s beside it",
				      from ? "to_month" : "from_month"),
			.allowed = "both or neither",
			.mend = "add it; for one month give the same number twice"});
}

void rig_check_claim(rig_reader *reader, int record)
{
	if (!reader->records[record].clean)
		return;
	rig_claim claim = *(const rig_claim *)reader->records[record].into;
	claim.says = rig_claim_says_of(&claim);
	check_months(reader, record);
	if (claim.says == RIG_SAYS_NOTHING) {
		check_one_thing(reader, record, &claim);
		return;
	}
	check_power(reader, record, &claim);
	for (size_t i = 0; i < sizeof BELONGS / sizeof BELONGS[0]; i++) {
		if (!rig_gives(reader, record, BELONGS[i].key) ||
			(BELONGS[i].with & BIT(claim.says)))
			continue;
		fault_at(reader, record, BELONGS[i].key,
			&(rig_saying){.what = "the key does not belong to what the claim says",
				.allowed = "see the table of claims in docs/rig-file.md",
				.mend = "take it out, or make a claim of its own of it"});
	}
}
