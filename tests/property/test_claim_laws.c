/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold of what is said of any coach. */
#include <math.h>

#include "altered.h"
#include "laws.h"
#include "rigbudget/claim.h"
#include "suites.h"

/* Claims of hours and of a supply take most of the time: of either one coach in so many. */
enum { MAX_CLAIMS = 8, DEAR = 5 };

/* The claims that are made of a coach, in the order in which they are made. */
typedef struct {
	altered coach;
	size_t n;
	rig_claim claims[MAX_CLAIMS];
	int load; /* -1 without one */
	int month;
} sales_talk;

static rig_claim *say(sales_talk *talk, rig_claim_says says)
{
	rig_claim *claim = &talk->claims[talk->n++];
	rig_claim_clear(claim);
	claim->says = says;
	claim->bank_index = claim->array_index = -1;
	claim->from_month = claim->to_month = -1;
	return claim;
}

/* The figure of a claim of a size or of hours. */
static rig_claim *say_figure(sales_talk *talk, rig_claim_says says, double value)
{
	rig_claim *claim = say(talk, says);
	rig_figure *const figure = says == RIG_SAYS_PANEL_W       ? &claim->panel_w
				   : says == RIG_SAYS_USABLE_WH   ? &claim->usable_wh
				   : says == RIG_SAYS_CAPACITY_AH ? &claim->capacity_ah
								  : &claim->runs_h;
	*figure = rig_figure_of(value, RIG_FROM_STATED);
	if (says == RIG_SAYS_HOURS) {
		claim->source = RIG_POWER_BATTERY;
		claim->from_month = claim->to_month = talk->month + 1;
		claim->n_loads = 1;
		claim->load_index = &talk->load;
		claim->loads = &talk->coach.coach.loads[talk->load].id;
	}
	return claim;
}

static void say_supply(sales_talk *talk, rig_claim_supply supply, bool one_load)
{
	rig_claim *claim = say(talk, RIG_SAYS_SUPPLY);
	claim->supply = supply;
	if (!one_load)
		return;
	claim->n_loads = 1;
	claim->load_index = &talk->load;
	claim->loads = &talk->coach.coach.loads[talk->load].id;
}

static rig_claim_findings *findings_of(const subject *it, sales_talk *talk)
{
	rig_claim_options options = rig_claim_defaults();
	options.n_trips = 100;
	options.all_places = false;
	talk->coach.coach.claims = talk->claims;
	talk->coach.coach.n_claims = talk->n;
	rig_claim_findings *findings = NULL;
	return rig_claim_study(&talk->coach.coach, &it->place, &options, &findings) == RIG_OK
		       ? findings
		       : NULL;
}

static rig_claim_says size_of(const subject *it)
{
	static const rig_claim_says SIZES[] = {
		RIG_SAYS_PANEL_W, RIG_SAYS_USABLE_WH, RIG_SAYS_CAPACITY_AH};
	return SIZES[it->number / 2 % COUNT(SIZES)];
}

/* Ends of the answer at hand: nobody disputes what is less than that, and nobody can hold what is
 * more. A label is rounded to a hundredth. */
static double surely(const rig_claim_finding *found)
{
	return found->has.low * 0.98;
}

static double never(const rig_claim_finding *found)
{
	return found->has.high * 1.02;
}

/* Panels of measured glass have a limit of their own, hours one past which nobody counts; of a load
 * that nothing feeds the figures are supposed. */
static bool can_be_turned(const rig_claim_finding *found, double most)
{
	return rig_figure_given(found->has) && surely(found) > 0.01 && never(found) < most &&
	       !found->supposed;
}

static bool holds(const rig_claim_finding *found)
{
	return found->answer == RIG_CLAIM_HOLDS || found->answer == RIG_CLAIM_HOLDS_IF;
}

static bool same_figure(rig_figure a, rig_figure b)
{
	return a.low == b.low && a.likely == b.likely && a.high == b.high;
}

/* ---- turned by a little less and a little more, whatever the order ---- */

static const double MOST_HOURS = 200, MOST_SIZE = 1e7;

static const char *turned(
	const subject *it, sales_talk *talk, const rig_claim_finding *first, double most)
{
	const rig_claim said = talk->claims[first->claim];
	if (!can_be_turned(first, most))
		return NULL;
	talk->n = 0;
	(void)say_figure(talk, said.says, never(first));
	(void)say_figure(talk, said.says, surely(first));
	talk->claims[talk->n++] = said;
	rig_claim_findings *found = findings_of(it, talk);
	const char *broken = NULL;
	if (found == NULL)
		return "a claim of another figure is not judged";
	if (found->claims[0].answer != RIG_CLAIM_FAILS)
		broken = "more than the coach can ever have does not fail";
	if (!holds(&found->claims[1]) && !(found->claims[1].reasons & RIG_CLAIM_OVER_GLASS))
		broken = "less than the coach surely has does not hold";
	if (found->claims[2].answer != first->answer ||
		!same_figure(found->claims[2].has, first->has))
		broken = "a claim is judged otherwise behind others";
	rig_claim_free(found);
	return broken;
}

/* ---- everything on a supply, and one load alone ---- */

static const char *supply_holds(const subject *it, const rig_claim_findings *found)
{
	const rig_claim_finding *all = &found->claims[1], *one = &found->claims[2];
	const rig_shore_findings *shore = law_shore(it);
	if (shore == NULL || it->coach->n_together > 0 || all->supply < 0)
		return NULL;
	const rig_shore_set *set = shore->sets;
	while (set->kind != RIG_SHORE_SET_EVERYTHING)
		set++;
	const rig_shore_budget *budget = &set->budgets[all->supply];
	if (all->answer == RIG_CLAIM_HOLDS && !budget->carried)
		return "a claim holds of a supply that does not carry it";
	if (budget->carried && all->answer == RIG_CLAIM_FAILS &&
		!(all->reasons & RIG_CLAIM_START_FAILS))
		return "a claim fails of a supply that carries it";
	return all->answer == RIG_CLAIM_HOLDS && one->answer == RIG_CLAIM_FAILS
		       ? "everything runs at once and one of it does not"
		       : NULL;
}

/* A size; of one coach in DEAR everything on a supply and one load on it, of one hours of a load.
 */
static void talk_of(const subject *it, sales_talk *talk)
{
	static const rig_claim_supply SUPPLY[] = {
		RIG_CLAIMED_50A, RIG_CLAIMED_30A, RIG_CLAIMED_20A};
	const size_t n_loads = it->coach->n_loads;
	const rig_claim_supply supply = SUPPLY[it->number % COUNT(SUPPLY)];
	talk->n = 0;
	talk->month = it->month;
	talk->load = n_loads > 0 ? (int)(it->number % n_loads) : -1;
	altered_of(&talk->coach, it->coach);
	(void)say_figure(talk, size_of(it), 1);
	if (talk->load >= 0 && it->number % DEAR == 0)
		(void)say_figure(talk, RIG_SAYS_HOURS, 1);
	if (talk->load >= 0 && it->number % DEAR == 1) {
		say_supply(talk, supply, false);
		say_supply(talk, supply, true);
	}
}

/* A coach of so many kilowatts on one cord that its volts have no answer is refused. */
static const char *claims_hold(const subject *it)
{
	static sales_talk talk;
	talk_of(it, &talk);
	rig_claim_findings *found = findings_of(it, &talk);
	if (found == NULL)
		return NOT_ASKED;
	const char *broken = found->n_claims == 3 ? supply_holds(it, found) : NULL;
	const rig_claim last = talk.claims[1];
	if (broken == NULL)
		broken = turned(it, &talk, &found->claims[0], MOST_SIZE);
	talk.claims[1] = last;
	if (broken == NULL && found->n_claims == 2)
		broken = turned(it, &talk, &found->claims[1], MOST_HOURS);
	rig_claim_free(found);
	return broken;
}

static const law_row CLAIMS[] = {
	{"claims hold", claims_hold, 900},
};

START_TEST(claims_on_any_coach_obey)
{
	laws_hold(CLAIMS, COUNT(CLAIMS), _i);
}
END_TEST

Suite *claim_laws_suite(void);
Suite *claim_laws_suite(void)
{
	Suite *suite = suite_create("claim_laws");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 600);
	tcase_add_loop_test(all, claims_on_any_coach_obey, 0, N_LAW_PARTS);
	suite_add_tcase(suite, all);
	return suite;
}
