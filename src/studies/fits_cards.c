/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The EITHER items of a search as cards to be dealt. */
#include "studies/fits_search.h"

#include <math.h>
#include <stdint.h>

/* The card that an EITHER item is dealt with: its own, or that of its breaker. */
static size_t card_of(fits_search *s, const rig_fits_item *item, size_t *n)
{
	const bool alone = item->circuit < 0 || s->problem->circuit_has_both[item->circuit];
	if (!alone && s->circuit_card[item->circuit] < *n)
		return s->circuit_card[item->circuit];
	if (!alone)
		s->circuit_card[item->circuit] = *n;
	s->cards[*n] = (rig_deal_card){0};
	return (*n)++;
}

bool fits_deal_anew(fits_search *s, size_t n_first, const rig_deal_problem *limits)
{
	rig_deal_problem problem = *limits;
	problem.cards = s->cards;
	problem.step_limit = s->problem->step_limit;
	fits_hots own = {0};
	for (size_t c = 0; c < s->problem->n_circuits; c++)
		s->circuit_card[c] = SIZE_MAX;
	for (size_t i = 0; i < n_first; i++) {
		const rig_fits_item *item = s->order[i];
		if (s->now[i] == RIG_FITS_OFF)
			continue;
		if (item->leg != RIG_FITS_EITHER) {
			fits_draw_on(&own.legs, item->loaded, s->now[i]);
			fits_draw_on(&own.neutral, item->plain, s->now[i]);
			continue;
		}
		rig_deal_card *card = &s->cards[s->card[i] = card_of(s, item, &problem.n)];
		card->loaded = fits_add(card->loaded, item->loaded);
		card->plain = fits_add(card->plain, item->plain);
	}
	problem.loaded = own.legs;
	problem.plain = own.neutral;
	const rig_deal_answer dealt = rig_deal(&problem, &s->room, s->card_leg);
	s->n_steps += dealt.n_steps;
	s->stopped |= !dealt.proved;
	if (!dealt.found)
		return false;
	s->at = own;
	for (size_t i = 0; i < n_first; i++) {
		if (s->now[i] == RIG_FITS_OFF || s->order[i]->leg != RIG_FITS_EITHER)
			continue;
		s->now[i] = s->card_leg[s->card[i]] ? RIG_FITS_LEG_2 : RIG_FITS_LEG_1;
		fits_draw_on(&s->at.legs, s->order[i]->loaded, s->now[i]);
		fits_draw_on(&s->at.neutral, s->order[i]->plain, s->now[i]);
	}
	return true;
}

bool fits_redeal(fits_search *s, size_t n_first, bool ask_neutral)
{
	const rig_deal_problem limits = {.limit_va = s->problem->hot_limit_va,
		.neutral_limit_va = ask_neutral ? s->problem->neutral_limit_va : 0,
		.enough_va = INFINITY};
	return fits_deal_anew(s, n_first, &limits);
}
