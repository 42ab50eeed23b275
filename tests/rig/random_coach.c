/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "random_coach.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "rig/effective.h"
#include "rig/keys.h"

enum { MAX_ITEMS = 12, MAX_LISTS = 48, MAX_USE = 4, MAX_TEXTS = 2048, TEXT_ROOM = 96 };

/* A coach with room for its lists. */
typedef struct {
	uint64_t state;
	rig_coach coach;
	rig_circuit circuits[MAX_ITEMS];
	rig_load loads[MAX_ITEMS];
	rig_bank banks[MAX_ITEMS];
	rig_array arrays[MAX_ITEMS];
	rig_together together[MAX_ITEMS];
	rig_habit habits[MAX_ITEMS];
	rig_wire wires[MAX_ITEMS];
	rig_reading readings[MAX_ITEMS];
	rig_claim claims[MAX_ITEMS];
	rig_use uses[MAX_ITEMS][MAX_USE];
	const char *id_lists[MAX_LISTS][MAX_ITEMS];
	size_t n_id_lists;
	char texts[MAX_TEXTS][TEXT_ROOM];
	size_t n_texts;
} maker;

/* Names that people and machines stumble over. */
static const char *const NAMES[] = {"Galley", "Owner's side", "Say \"cheese\"",
	"<b>bold</b> & more", "<script>alert(1)</script>", "back\\slash", "line\nbreak\ttab",
	"\xE2\x80\xAEtfel", "\xF0\x9F\x9A\x90 bus", "\xC3\xA9t\xC3\xA9 \xE6\xB0\xB4", "e\xCC\x81",
	"=1+1", "%s%n%d", "../../etc", "\x7F", "\x01\x1B[31m"};

enum { N_NAMES = sizeof NAMES / sizeof NAMES[0] };

static const uint8_t *tape;
static size_t tape_left;

void random_tape(const uint8_t *bytes, size_t n)
{
	tape = bytes;
	tape_left = bytes != NULL ? n : 0;
}

/* One byte of tape a choice, spread over all bits; at most 255 are told apart. */
static uint64_t tape_bits(void)
{
	tape_left--;
	return *tape++ * 0x0101010101010101U;
}

uint64_t random_bits(uint64_t *state)
{
	if (tape_left > 0)
		return tape_bits();
	*state += 0x9E3779B97F4A7C15U;
	uint64_t z = *state;
	z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9U;
	z = (z ^ (z >> 27)) * 0x94D049BB133111EBU;
	return z ^ (z >> 31);
}

double random_share(uint64_t *state)
{
	return (double)(random_bits(state) >> 11) * 0x1p-53;
}

int random_below(uint64_t *state, int n)
{
	assert(n > 0);
	return n > 0 ? (int)(random_bits(state) % (uint64_t)n) : 0;
}

static bool coin(maker *make)
{
	return random_below(&make->state, 2) == 1;
}

static const char *text_of(maker *make, const char *word, int number)
{
	assert(make->n_texts < MAX_TEXTS);
	char *text = make->texts[make->n_texts++];
	snprintf(text, TEXT_ROOM, "%s%d", word, number);
	return text;
}

/* A number in a key's range as somebody may write it in a unit: round, with decimals, or any. */
static double number_in(maker *make, const rig_key *key, unsigned unit)
{
	const double share = random_share(&make->state);
	double si = key->low + share * (key->high - key->low);
	if (key->low > 0 && coin(make))
		si = key->low * pow(key->high / key->low, share);
	double number = rig_key_from_si(key, unit, si);
	const int digits = random_below(&make->state, 5);
	if (digits < 4)
		number = round(number * pow(10, digits)) / pow(10, digits);
	si = rig_key_to_si(key, unit, number);
	if (si < key->low || si > key->high)
		si = (key->low + key->high) / 2;
	return si;
}

static int by_size(const void *a, const void *b)
{
	const double x = *(const double *)a, y = *(const double *)b;
	return (x > y) - (x < y);
}

static rig_figure figure_of(maker *make, const rig_key *key)
{
	unsigned n_units = 1;
	while (n_units < RIG_N_KEY_NAMES && key->name[n_units] != NULL)
		n_units++;
	const unsigned unit = (unsigned)random_below(&make->state, (int)n_units);
	double si[3];
	for (int i = 0; i < 3; i++)
		si[i] = number_in(make, key, unit);
	qsort(si, 3, sizeof si[0], by_size);
	rig_figure figure = rig_figure_of(si[1], RIG_FROM_STATED);
	if (coin(make)) {
		const int word = random_below(&make->state, 4);
		figure = rig_figure_range(
			si[0], si[1], si[2], (rig_origin)RIG_ORIGIN_WORDS[word].value);
		if (coin(make))
			figure.source = NAMES[random_below(&make->state, N_NAMES)];
	}
	figure.unit = (unsigned char)unit;
	return figure;
}

/* An id of one of n items, or NULL. */
static const char *id_in(maker *make, const char *word, size_t n)
{
	return n == 0 ? NULL : text_of(make, word, random_below(&make->state, (int)n));
}

static const char *reference_of(maker *make, rig_target target)
{
	const rig_coach *coach = &make->coach;
	if (target == RIG_TO_CIRCUIT)
		return id_in(make, "circuit-", coach->n_circuits);
	if (target == RIG_TO_LOAD)
		return id_in(make, "load_", coach->n_loads);
	if (target == RIG_TO_BANK)
		return id_in(make, "Bank", coach->n_banks);
	if (target == RIG_TO_ARRAY)
		return id_in(make, "array", coach->n_arrays);
	if (target == RIG_TO_PLACE) {
		rig_place place;
		rig_place_at((size_t)random_below(&make->state, (int)rig_n_places()), &place);
		const char *text = text_of(make, "", 0);
		snprintf(make->texts[make->n_texts - 1], TEXT_ROOM, "%s", place.name);
		return text;
	}
	return rig_target_at(
		target, (size_t)random_below(&make->state, (int)rig_target_count(target)));
}

/* Some of the loads or circuits, in any order, each once. */
static void some_ids(maker *make, const rig_key *key, void *into)
{
	assert(make->n_id_lists < MAX_LISTS);
	const bool circuits = key->target == RIG_TO_CIRCUIT;
	const char **list = make->id_lists[make->n_id_lists++];
	const size_t n = circuits ? make->coach.n_circuits : make->coach.n_loads;
	if (n == 0)
		return;
	const size_t start = (size_t)random_below(&make->state, (int)n);
	size_t taken = 1 + (size_t)random_below(&make->state, (int)n);
	for (size_t i = 0; i < taken; i++)
		list[i] = text_of(make, circuits ? "circuit-" : "load_", (int)((start + i) % n));
	*(const char ***)rig_key_field(key, into) = list;
	*(size_t *)((char *)into + key->count_offset) = taken;
}

static int choice_of(maker *make, rig_words words)
{
	int n = 0;
	while (words[n].text != NULL)
		n++;
	return words[random_below(&make->state, n)].value;
}

static void fill_key(maker *make, const rig_key *key, void *into)
{
	void *field = rig_key_field(key, into);
	const int span = (int)(key->high < 24 ? key->high - key->low : 24 - key->low);
	switch (key->kind) {
	case RIG_KEY_TEXT:
		*(const char **)field = NAMES[random_below(&make->state, N_NAMES)];
		break;
	case RIG_KEY_FORMAT:
		*(const char **)field = RIG_FORMAT;
		break;
	case RIG_KEY_REFERENCE:
		*(const char **)field = reference_of(make, key->target);
		break;
	case RIG_KEY_REFERENCES:
		some_ids(make, key, into);
		break;
	case RIG_KEY_YES_NO:
		*(rig_choice *)field = coin(make) ? RIG_YES : RIG_NO;
		break;
	case RIG_KEY_WHOLE:
		*(int *)field = (int)key->low + random_below(&make->state, span + 1);
		break;
	case RIG_KEY_CHOICE:
	case RIG_KEY_NUMBER:
		*(int *)field = choice_of(make, key->words);
		break;
	case RIG_KEY_FIGURE:
		*(rig_figure *)field = figure_of(make, key);
		break;
	default: /* ids, objects and lists are made one by one */
		break;
	}
}

static void fill(maker *make, rig_object object, void *into)
{
	const rig_object_keys *keys = rig_keys_of(object);
	rig_object_clear(object, into);
	if (keys->has_present)
		*(bool *)into = true;
	for (size_t i = 0; i < keys->n_keys; i++)
		if (keys->keys[i].required || coin(make))
			fill_key(make, &keys->keys[i], into);
}

static const rig_figure NONE = {0};

/* The lesser likely value first; else the first is taken out. */
static void keep_order(rig_figure *low, const rig_figure *high)
{
	if (rig_figure_given(*low) && rig_figure_given(*high) && low->likely > high->likely)
		*low = NONE;
}

/* A window that has a length and holds the hours of use, or none. */
static void fit_window(int *from, int *to, rig_figure *use)
{
	if (*from < 0 || *to < 0 || *from == *to % 24) {
		*from = *to = -1;
		return;
	}
	if (use != NULL && rig_figure_given(*use) && use->likely > rig_window_h(*from, *to))
		*use = NONE;
}

static void make_bank(maker *make, size_t i)
{
	rig_bank *bank = &make->banks[i];
	fill(make, RIG_OBJECT_BANK, bank);
	bank->id = text_of(make, "Bank", (int)i);
	const int way = random_below(&make->state, 3);
	const rig_figure ah = bank->capacity_ah, wh = bank->capacity_wh,
			 reserve = bank->reserve_minutes;
	bank->capacity_ah = way == 0 ? ah : NONE;
	bank->capacity_wh = way == 1 ? wh : NONE;
	bank->reserve_minutes = way == 2 ? reserve : NONE;
	if (!rig_figure_given(ah) || !rig_figure_given(wh) || !rig_figure_given(reserve)) {
		bank->capacity_wh = bank->reserve_minutes = NONE;
		bank->capacity_ah =
			rig_figure_of(1 + random_below(&make->state, 400), RIG_FROM_NAMEPLATE);
	}
	if (bank->series > 1 && !rig_figure_given(bank->nominal_v))
		bank->series = -1;
	if (!rig_figure_given(bank->kinetic_c_frac) || !rig_figure_given(bank->kinetic_k_per_h))
		bank->kinetic_c_frac = bank->kinetic_k_per_h = NONE;
}

/* The first circuit is a DC one whenever there are banks, so that DC loads can be placed. */
static void make_circuit(maker *make, size_t i)
{
	rig_circuit *circuit = &make->circuits[i];
	fill(make, RIG_OBJECT_CIRCUIT, circuit);
	circuit->id = text_of(make, "circuit-", (int)i);
	const bool dc = make->coach.n_banks > 0 && (i == 0 || coin(make));
	circuit->supply = dc ? RIG_DC : RIG_AC;
	circuit->bank = dc ? reference_of(make, RIG_TO_BANK) : NULL;
	if (dc || !make->coach.inverter.present)
		circuit->inverter = RIG_UNSAID;
	if (dc || (make->coach.cord_a < 50 && circuit->leg != RIG_LEG_UNSAID))
		circuit->leg = dc ? RIG_LEG_UNSAID : RIG_LEG_1;
}

static void fit_use(rig_load *load)
{
	if (load->always_on == RIG_YES) {
		load->from_hour = load->to_hour = -1;
		load->daily_use_h = NONE;
	}
	fit_window(&load->from_hour, &load->to_hour, &load->daily_use_h);
}

static void fit_draw(maker *make, rig_load *load)
{
	if (rig_figure_given(load->running_w))
		load->running_a = NONE;
	else if (load->profile == NULL && !rig_figure_given(load->running_a))
		load->running_w =
			rig_figure_of(1 + random_below(&make->state, 1500), RIG_FROM_MEASURED);
}

static const rig_circuit *circuit_named(const maker *make, const char *id)
{
	for (size_t i = 0; i < make->coach.n_circuits && id != NULL; i++)
		if (strcmp(make->circuits[i].id, id) == 0)
			return &make->circuits[i];
	return NULL;
}

/* Puts the load on a circuit of its supply, or on none, and gives its supply. */
static rig_supply_kind fit_circuit(const maker *make, rig_load *load)
{
	const rig_appliance *appliance =
		load->profile == NULL ? NULL : rig_appliance_find(load->profile);
	const rig_circuit *circuit = circuit_named(make, load->circuit);
	if (appliance != NULL)
		load->supply = appliance->supply;
	const rig_supply_kind supply = rig_load_supply(load, appliance, circuit);
	if (circuit != NULL && rig_circuit_supply(circuit) != supply)
		load->circuit = NULL;
	if (supply == RIG_DC && load->circuit == NULL && make->coach.n_banks > 1)
		load->circuit = make->circuits[0].id;
	/* Without a profile and a circuit of its own the supply has to be said again. */
	load->supply = supply;
	return supply;
}

static void fit_dc(rig_load *load)
{
	if (rig_figure_given(load->volts_v))
		load->volts_v = rig_figure_of(12, RIG_FROM_NAMEPLATE);
	load->power_factor = NONE;
	load->inverter = load->soft_starter = RIG_UNSAID;
}

static void fit_ac(const maker *make, rig_load *load)
{
	const rig_circuit *circuit = circuit_named(make, load->circuit);
	const bool both = circuit != NULL && circuit->leg == RIG_LEG_BOTH;
	if (rig_figure_given(load->volts_v))
		load->volts_v = rig_figure_of(both ? 240 : 120, RIG_FROM_NAMEPLATE);
	if (!make->coach.inverter.present)
		load->inverter = RIG_UNSAID;
	else if (circuit != NULL && circuit->inverter == RIG_NO)
		load->inverter = RIG_NO;
}

static void make_load(maker *make, size_t i)
{
	rig_load *load = &make->loads[i];
	fill(make, RIG_OBJECT_LOAD, load);
	load->id = text_of(make, "load_", (int)i);
	fit_use(load);
	fit_draw(make, load);
	const bool said = load->supply != RIG_SUPPLY_UNSET;
	if (fit_circuit(make, load) == RIG_DC)
		fit_dc(load);
	else
		fit_ac(make, load);
	/* What profile or circuit say need not be said. */
	if (!said && (load->profile != NULL || load->circuit != NULL))
		load->supply = RIG_SUPPLY_UNSET;
}

static void make_array(maker *make, size_t i)
{
	rig_array *array = &make->arrays[i];
	fill(make, RIG_OBJECT_ARRAY, array);
	array->id = text_of(make, "array", (int)i);
	array->bank = reference_of(make, RIG_TO_BANK);
	if (!rig_figure_given(array->length_m) || !rig_figure_given(array->width_m))
		array->length_m = array->width_m = NONE;
	if (!rig_figure_given(array->length_m) && !rig_figure_given(array->watts_w))
		array->watts_w =
			rig_figure_of(10 + random_below(&make->state, 400), RIG_FROM_NAMEPLATE);
	keep_order(&array->vmp_v, &array->voc_v);
	keep_order(&array->imp_a, &array->isc_a);
	if (array->controller != RIG_MPPT)
		array->controller_efficiency_frac = NONE;
}

static void make_sources(maker *make)
{
	rig_coach *coach = &make->coach;
	if (coin(make)) {
		fill(make, RIG_OBJECT_INVERTER, &coach->inverter);
		coach->inverter.bank = reference_of(make, RIG_TO_BANK);
		if (rig_figure_given(coach->inverter.surge_w) &&
			coach->inverter.surge_w.likely < coach->inverter.watts_w.likely)
			coach->inverter.surge_w = NONE;
		if (rig_figure_given(coach->inverter.idle_w))
			coach->inverter.loss_fixed_frac = NONE;
	}
	if (coin(make)) {
		fill(make, RIG_OBJECT_DC_CHARGER, &coach->dc_charger);
		coach->dc_charger.bank = reference_of(make, RIG_TO_BANK);
	}
	if (coin(make)) {
		rig_generator *generator = &coach->generator;
		fill(make, RIG_OBJECT_GENERATOR, generator);
		if (rig_figure_given(generator->surge_w) &&
			generator->surge_w.likely < generator->watts_w.likely)
			generator->surge_w = NONE;
		keep_order(&generator->start_soc_frac, &generator->stop_soc_frac);
		keep_order(&generator->fuel_idle_l_h, &generator->fuel_full_l_h);
		fit_window(&generator->quiet_from_hour, &generator->quiet_to_hour, NULL);
	}
	if (coin(make))
		fill(make, RIG_OBJECT_ENERGY_MANAGEMENT, &coach->energy_management);
	if (coin(make))
		fill(make, RIG_OBJECT_BODY, &coach->body);
}

/* The charger wants an AC circuit, so it comes after the circuits. */
static void make_charger(maker *make)
{
	rig_charger *charger = &make->coach.charger;
	if (coin(make))
		return;
	fill(make, RIG_OBJECT_CHARGER, charger);
	charger->bank = reference_of(make, RIG_TO_BANK);
	const rig_circuit *circuit = circuit_named(make, charger->circuit);
	if (circuit != NULL && circuit->supply == RIG_DC)
		charger->circuit = NULL;
}

static void make_habit(maker *make, size_t i)
{
	rig_habit *habit = &make->habits[i];
	fill(make, RIG_OBJECT_HABIT, habit);
	habit->name = text_of(make, "habit ", (int)i);
	habit->use = make->uses[i];
	habit->n_use = (size_t)random_below(&make->state, MAX_USE + 1);
	if (habit->n_use > make->coach.n_loads)
		habit->n_use = make->coach.n_loads;
	for (size_t j = 0; j < habit->n_use; j++) {
		rig_use *use = &habit->use[j];
		fill(make, RIG_OBJECT_USE, use);
		use->load = text_of(make, "load_", (int)j);
		fit_window(&use->from_hour, &use->to_hour, &use->daily_use_h);
		if (use->from_hour < 0 && !rig_figure_given(use->daily_use_h))
			use->daily_use_h = rig_figure_of(2, RIG_FROM_STATED);
	}
}

/* A discharge with all its parts, or none of them. */
static void fit_discharge(rig_reading *reading)
{
	const rig_figure before = reading->rest_before_v;
	const bool whole =
		rig_figure_given(reading->bank_a) && rig_figure_given(reading->duration_h);
	if (!whole) {
		reading->duration_h = NONE;
		reading->to_empty = RIG_UNSAID;
	}
	if (!whole || !rig_figure_given(before) || !rig_figure_given(reading->rest_after_v) ||
		before.likely < reading->rest_after_v.likely)
		reading->rest_before_v = reading->rest_after_v = NONE;
	if (!rig_figure_given(reading->bank_a))
		reading->charging = RIG_CHARGING_UNSAID;
}

static void make_reading(maker *make, rig_reading *reading)
{
	fill(make, RIG_OBJECT_READING, reading);
	if (make->coach.cord_a < 50)
		reading->leg2_a = NONE;
	reading->bank = rig_figure_given(reading->bank_a) ? reference_of(make, RIG_TO_BANK) : NULL;
	if (!rig_figure_given(reading->leg1_a))
		reading->watts_w = rig_figure_of(100, RIG_FROM_MEASURED);
	fit_discharge(reading);
	if (reading->circuit == NULL || !rig_figure_given(reading->circuit_a)) {
		reading->circuit = NULL;
		reading->circuit_a = NONE;
	}
	if (reading->month < 0 || reading->day < 0)
		reading->month = reading->day = -1;
	reading->day = reading->day > 28 ? 28 : reading->day;
	if (reading->array == NULL || reading->month < 0 || !rig_figure_given(reading->hour_h))
		reading->array_a = NONE;
	if (!rig_figure_given(reading->array_a))
		reading->array = NULL;
}

static bool has_part(const rig_coach *coach, rig_feeds feeds)
{
	switch (feeds) {
	case RIG_FEEDS_INVERTER:
		return coach->inverter.present;
	case RIG_FEEDS_CHARGER:
		return coach->charger.present;
	case RIG_FEEDS_DC_CHARGER:
		return coach->dc_charger.present;
	case RIG_FEEDS_SOLAR:
		return coach->n_arrays > 0;
	default:
		return true;
	}
}

static void make_wire(maker *make, size_t i)
{
	rig_wire *wire = &make->wires[i];
	fill(make, RIG_OBJECT_WIRE, wire);
	wire->id = text_of(make, "wire", (int)i);
	if (wire->circuit != NULL)
		wire->bank = NULL;
	if (wire->circuit != NULL || wire->bank != NULL)
		wire->volts_v = NONE;
	if (wire->bank == NULL)
		wire->fuse_distance_m = NONE;
	if (wire->bank == NULL || !has_part(&make->coach, wire->feeds))
		wire->feeds = RIG_FEEDS_UNSAID;
	if (!rig_figure_given(wire->amps_a)) {
		wire->continuous = RIG_UNSAID;
		wire->power_factor = NONE;
	}
}

/* The figure that belongs to what it says is given, the others are not. */
static void keep_figure(rig_claim *claim, rig_claim_says says)
{
	const struct {
		rig_claim_says says;
		rig_figure *figure;
		double value;
	} figures[] = {{RIG_SAYS_DAYS, &claim->stay_days, 2}, {RIG_SAYS_HOURS, &claim->runs_h, 5},
		{RIG_SAYS_PANEL_W, &claim->panel_w, 100},
		{RIG_SAYS_USABLE_WH, &claim->usable_wh, 900},
		{RIG_SAYS_CAPACITY_AH, &claim->capacity_ah, 90}};
	for (size_t i = 0; i < sizeof figures / sizeof figures[0]; i++)
		if (figures[i].says != says)
			*figures[i].figure = NONE;
		else if (!rig_figure_given(*figures[i].figure))
			*figures[i].figure = rig_figure_of(figures[i].value, RIG_FROM_STATED);
}

/* What feeds the loads that it is about. */
static void keep_source(rig_claim *claim, rig_claim_says says)
{
	if (says != RIG_SAYS_SUPPLY)
		claim->supply = RIG_CLAIMED_UNSAID;
	else if (claim->supply == RIG_CLAIMED_UNSAID)
		claim->supply = RIG_CLAIMED_30A;
	claim->storage = says == RIG_SAYS_SUN_HOLDS ? RIG_YES : RIG_UNSAID;
	if (says == RIG_SAYS_SUN_RUNS || says == RIG_SAYS_SUN_HOLDS)
		claim->source = RIG_POWER_SOLAR;
	else if (says == RIG_SAYS_HOURS)
		claim->source = RIG_POWER_BATTERY;
	else if (says != RIG_SAYS_DAYS)
		claim->source = RIG_POWER_UNSAID;
}

/* Of all that it may say one thing, and what belongs to that. */
static void make_claim(maker *make, rig_claim *claim)
{
	fill(make, RIG_OBJECT_CLAIM, claim);
	rig_claim_says says = (rig_claim_says)(1 + random_below(&make->state, RIG_N_SAYS - 1));
	if (says == RIG_SAYS_HOURS && claim->n_loads == 0)
		says = RIG_SAYS_DAYS;
	const bool sun = says == RIG_SAYS_SUN_RUNS || says == RIG_SAYS_SUN_HOLDS;
	const bool span = says == RIG_SAYS_DAYS || says == RIG_SAYS_HOURS;
	keep_figure(claim, says);
	keep_source(claim, says);
	if (says != RIG_SAYS_SUPPLY && says != RIG_SAYS_SUN_RUNS && !span) {
		claim->n_loads = 0;
		claim->loads = NULL;
	}
	if (says != RIG_SAYS_SUN_HOLDS && says != RIG_SAYS_USABLE_WH &&
		says != RIG_SAYS_CAPACITY_AH)
		claim->bank = NULL;
	if (says != RIG_SAYS_PANEL_W)
		claim->array = NULL;
	if ((!sun && !span) || claim->from_month < 0 || claim->to_month < 0)
		claim->from_month = claim->to_month = -1;
}

static void make_rest(maker *make)
{
	rig_coach *coach = &make->coach;
	for (size_t i = 0; i < coach->n_together; i++) {
		fill(make, RIG_OBJECT_TOGETHER, &make->together[i]);
		make->together[i].name = text_of(make, "set ", (int)i);
	}
	for (size_t i = 0; i < coach->n_habits; i++)
		make_habit(make, i);
	for (size_t i = 0; i < coach->n_wires; i++)
		make_wire(make, i);
	for (size_t i = 0; i < coach->n_readings; i++)
		make_reading(make, &make->readings[i]);
	coach->n_claims = (size_t)random_below(&make->state, 3);
	coach->claims = make->claims;
	for (size_t i = 0; i < coach->n_claims; i++)
		make_claim(make, &make->claims[i]);
}

/* A point anywhere becomes one within a degree of a place of the table, whose weather is known. */
static void bring_near(rig_site *site)
{
	rig_place place;
	const double share = (site->latitude_deg.likely + 90) / 180;
	const double other = (site->longitude_deg.likely + 180) / 360;
	rig_place_at((size_t)(share * (double)(rig_n_places() - 1)), &place);
	site->latitude_deg = rig_figure_of(place.latitude_deg + other - 0.5, RIG_FROM_STATED);
	site->longitude_deg = rig_figure_of(
		fmin(fmax(place.longitude_deg + share - 0.5, -180), 180), RIG_FROM_STATED);
}

static void make_site(maker *make, rig_site *site)
{
	fill(make, RIG_OBJECT_PLACE, site);
	if (!rig_figure_given(site->latitude_deg) || !rig_figure_given(site->longitude_deg))
		site->latitude_deg = site->longitude_deg = NONE;
	else
		bring_near(site);
	if (!rig_figure_given(site->latitude_deg) && site->name == NULL)
		site->name = reference_of(make, RIG_TO_PLACE);
}

/* A reading needs all of its figures, and what it tells is not told twice. */
static void fit_shore(rig_coach *coach)
{
	keep_order(&coach->loaded_v, &coach->pedestal_open_v);
	if (rig_figure_given(coach->source_ohm) || !rig_figure_given(coach->pedestal_open_v) ||
		!rig_figure_given(coach->loaded_v) || !rig_figure_given(coach->loaded_a))
		coach->loaded_v = coach->loaded_a = NONE;
	if (!rig_figure_given(coach->adapter_length_m))
		coach->adapter_awg = NULL;
}

static size_t some(maker *make, int most)
{
	return (size_t)random_below(&make->state, most + 1);
}

static void make_coach(maker *make)
{
	rig_coach *coach = &make->coach;
	fill(make, RIG_OBJECT_COACH, coach);
	fill(make, RIG_OBJECT_SHORE, coach);
	fit_shore(coach);
	coach->n_banks = some(make, 3);
	coach->n_circuits = some(make, 5) + (coach->n_banks > 0);
	coach->n_loads = 1 + some(make, MAX_ITEMS - 1);
	coach->n_arrays = some(make, 2);
	coach->n_together = some(make, 2);
	coach->n_habits = some(make, 2);
	coach->n_wires = some(make, 2);
	coach->n_readings = some(make, 2);
	coach->banks = make->banks;
	coach->circuits = make->circuits;
	coach->loads = make->loads;
	coach->arrays = make->arrays;
	coach->together = make->together;
	coach->habits = make->habits;
	coach->wires = make->wires;
	coach->readings = make->readings;
	if (coin(make))
		make_site(make, &coach->site);
	make_sources(make);
	for (size_t i = 0; i < coach->n_banks; i++)
		make_bank(make, i);
	for (size_t i = 0; i < coach->n_circuits; i++)
		make_circuit(make, i);
	for (size_t i = 0; i < coach->n_loads; i++)
		make_load(make, i);
	for (size_t i = 0; i < coach->n_arrays; i++)
		make_array(make, i);
	make_charger(make);
	make_rest(make);
}

static void *not_null(void *made)
{
	if (made == NULL) {
		fprintf(stderr, "random_coach: out of memory\n");
		abort();
	}
	return made;
}

char *random_coach_text(uint64_t seed)
{
	maker *make = not_null(calloc(1, sizeof *make));
	make->state = seed;
	make_coach(make);
	char *text = not_null(rig_coach_text(&make->coach));
	free(make);
	return text;
}

rig_file *random_coach(uint64_t seed)
{
	char *text = random_coach_text(seed);
	rig_diags *diags = not_null(rig_diags_new());
	rig_file *file = NULL;
	rig_file_parse(text, strlen(text), diags, &file);
	for (size_t i = 0; file == NULL && i < rig_diags_count(diags); i++) {
		const rig_diag *diag = rig_diags_at(diags, i);
		fprintf(stderr, "random_coach(%llu): %zu:%zu %s: %s, found %s\n",
			(unsigned long long)seed, diag->where.line, diag->where.column,
			diag->where.path, diag->what, diag->found);
	}
	rig_diags_free(diags);
	free(text);
	return not_null(file);
}
