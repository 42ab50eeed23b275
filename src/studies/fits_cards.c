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

/* What is on as cards, and what of it stands on its leg already. */
static fits_hots stack_cards(fits_search *s, rig_deal_problem *problem)
{
	fits_hots own = {0};
	for (size_t k = 0; k < s->n_on; k++)
		if (s->order[s->on[k]]->circuit >= 0)
			s->circuit_card[s->order[s->on[k]]->circuit] = SIZE_MAX;
	for (size_t k = 0; k < s->n_on; k++) {
		const size_t place = s->on[k];
		const rig_fits_item *item = s->order[place];
		if (item->leg != RIG_FITS_EITHER) {
			fits_draw_on(&own.legs, item->loaded, s->now[place]);
			fits_draw_on(&own.neutral, item->plain, s->now[place]);
			continue;
		}
		rig_deal_card *card = &s->cards[s->card[place] = card_of(s, item, &problem->n)];
		card->loaded = fits_add(card->loaded, item->loaded);
		card->plain = fits_add(card->plain, item->plain);
	}
	problem->cards = s->cards;
	problem->loaded = own.legs;
	problem->plain = own.neutral;
	return own;
}

bool fits_deal_anew(fits_search *s, const rig_deal_problem *limits)
{
	rig_deal_problem problem = *limits;
	problem.step_limit = s->step_limit;
	const fits_hots own = stack_cards(s, &problem);
	const rig_deal_answer dealt = rig_deal(&problem, &s->room, s->card_leg);
	s->n_steps += dealt.n_steps;
	s->stopped |= !dealt.proved;
	if (!dealt.found)
		return false;
	s->at = own;
	for (size_t k = 0; k < s->n_on; k++) {
		const size_t place = s->on[k];
		if (s->order[place]->leg != RIG_FITS_EITHER)
			continue;
		s->now[place] = s->card_leg[s->card[place]] ? RIG_FITS_LEG_2 : RIG_FITS_LEG_1;
		fits_draw_on(&s->at.legs, s->order[place]->loaded, s->now[place]);
		fits_draw_on(&s->at.neutral, s->order[place]->plain, s->now[place]);
	}
	return true;
}

bool fits_redeal(fits_search *s, bool ask_neutral)
{
	const rig_deal_problem limits = {.limit_va = s->problem->hot_limit_va,
		.neutral_limit_va = ask_neutral ? s->problem->neutral_limit_va : 0,
		.enough_va = INFINITY};
	return fits_deal_anew(s, &limits);
}
