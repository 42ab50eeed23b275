/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/trip_input.h"

#include <math.h>
#include <string.h>

#include "studies/bank_store.h"

/* Light and air at which an array's losses are compared. */
static const double USUAL_WM2 = 600, USUAL_C = 20;

/* A figure over its likely value; 1 throughout if it has none. */
static rig_figure over_likely(double low, double likely, double high)
{
	if (!(likely > 0) || !(low >= 0))
		return rig_figure_of(1, RIG_FROM_COMPUTED);
	return rig_figure_range(
		fmin(1, low / likely), 1, fmax(1, high / likely), RIG_FROM_COMPUTED);
}

static rig_figure ratio_of(rig_figure figure)
{
	return rig_figure_given(figure) ? over_likely(figure.low, figure.likely, figure.high)
					: rig_figure_of(1, RIG_FROM_COMPUTED);
}

/* Only what has a range is drawn. */
static void add(trip_inputs *inputs, rig_trip_input_kind kind, int index, rig_figure ratio)
{
	if (ratio.high > ratio.low)
		inputs->list[inputs->n++] =
			(rig_trip_input){.kind = kind, .index = index, .ratio = ratio};
}

static rig_figure up_to(rig_figure ratio, double most)
{
	ratio.high = fmax(1, fmin(ratio.high, most));
	return ratio;
}

static void add_bank(const trip_model *model, int bank, trip_inputs *inputs)
{
	const rig_bank *it = &model->coach->banks[bank];
	const rig_store store = bank_store(model->coach, bank, COURSE_LIKELY, NULL);
	add(inputs, RIG_INPUT_CAPACITY, bank, ratio_of(it->total_wh));
	add(inputs, RIG_INPUT_USABLE, bank,
		up_to(ratio_of(it->usable_frac), store.kinetic.capacity / store.usable_wh));
	add(inputs, RIG_INPUT_EFFICIENCY, bank,
		up_to(ratio_of(it->charge_efficiency_frac), 1 / store.efficiency_frac));
}

static void add_array(const trip_model *model, int array, trip_inputs *inputs)
{
	double watts_w[N_COURSES];
	for (int c = 0; c < N_COURSES; c++) {
		const solar_output output =
			solar_output_of(model->coach, array, COURSE_LIKELY, (solar_course)c);
		watts_w[c] = solar_output_w(&output, USUAL_WM2, USUAL_C);
	}
	add(inputs, RIG_INPUT_PANEL, array, ratio_of(model->coach->arrays[array].total_w));
	add(inputs, RIG_INPUT_LOSSES, array,
		over_likely(watts_w[COURSE_POOR], watts_w[COURSE_LIKELY], watts_w[COURSE_GOOD]));
}

static rig_figure inverter_ratio(const trip_model *model)
{
	const rig_inverter *it = &model->coach->inverter;
	const rig_figure parts[] = {
		it->loss_fixed_frac, it->loss_linear_frac, it->loss_square_frac};
	/* at a third of its rating, where coaches' inverters stand most of the time they work */
	static const double WEIGHT[] = {1, 1.0 / 3, 1.0 / 9};
	rig_figure sum = rig_figure_of(0, RIG_FROM_COMPUTED);
	for (int i = 0; i < 3; i++)
		if (rig_figure_given(parts[i]))
			sum = rig_figure_add(sum, rig_figure_scale(parts[i], WEIGHT[i]));
	return ratio_of(sum);
}

static bool feeds_house(const trip_model *model, int array, size_t n_house)
{
	const int bank = model->coach->arrays[array].bank_index;
	const int store = bank < 0 ? -1 : trip_store_of(model, bank);
	return store >= 0 && (size_t)store < n_house;
}

rig_status trip_inputs_find(const trip_model *model, size_t n_house, trip_inputs *inputs)
{
	const rig_coach *coach = model->coach;
	const size_t most = coach->n_loads + 3 * n_house + 2 * coach->n_arrays + 3;
	*inputs = (trip_inputs){.list = rig_arena_take(model->arena, most, sizeof *inputs->list)};
	if (!inputs->list)
		return RIG_NO_MEMORY;
	if (model->options.likely_inputs)
		return RIG_OK;
	for (int load = 0; load < (int)coach->n_loads; load++) {
		const int store = trip_store_of_load(model, load);
		if (store >= 0 && (size_t)store < n_house)
			add(inputs, RIG_INPUT_LOAD, load, ratio_of(trip_load_wh_day(model, load)));
	}
	for (size_t s = 0; s < n_house; s++)
		add_bank(model, model->bank_of[s], inputs);
	bool any_array = false;
	for (int array = 0; array < (int)coach->n_arrays; array++) {
		if (!feeds_house(model, array, n_house))
			continue;
		any_array = true;
		add_array(model, array, inputs);
	}
	if (coach->inverter.present && coach->inverter.bank_index >= 0 &&
		(size_t)trip_store_of(model, coach->inverter.bank_index) < n_house)
		add(inputs, RIG_INPUT_INVERTER, -1, inverter_ratio(model));
	if (any_array && model->place && !model->options.weather)
		add(inputs, RIG_INPUT_SUN, -1,
			over_likely(model->place->sun_low_ratio, 1, model->place->sun_high_ratio));
	return RIG_OK;
}

/* ---- drawing ---- */

/* A word for each place in a sequence: [STEELE-2014]. */
static uint64_t mixed(uint64_t z)
{
	z = (z ^ z >> 30) * 0xbf58476d1ce4e5b9u;
	z = (z ^ z >> 27) * 0x94d049bb133111ebu;
	return z ^ z >> 31;
}

static const uint64_t STEP = 0x9e3779b97f4a7c15u;

void trip_input_uniform(const rig_trip_input *input, const rig_lanes *lanes, double uniform[])
{
	/* a sequence of its own for each input of a seed */
	const uint64_t number = ((uint64_t)input->kind << 32) + (uint64_t)(input->index + 2);
	const uint64_t start = mixed(mixed(lanes->seed + STEP) + STEP * number);
	for (size_t i = 0; i < lanes->n_lanes; i++) {
		/* 52 bits as the fraction of a figure from 1 to 2 */
		const uint64_t word = mixed(start + STEP * (lanes->first_trip + i + 1));
		const uint64_t bits = word >> 12 | 0x3ff0000000000000u;
		double figure;
		memcpy(&figure, &bits, sizeof figure);
		uniform[i] = figure - 1;
	}
}

void trip_input_draw(const rig_trip_input *input, const rig_lanes *lanes, double ratio[])
{
	const rig_figure range = input->ratio;
	const double width = range.high - range.low;
	const double rise = width * (range.likely - range.low);
	const double fall = width * (range.high - range.likely);
	const double tip = (range.likely - range.low) / width;
	trip_input_uniform(input, lanes, ratio);
	for (size_t i = 0; i < lanes->n_lanes; i++) {
		const double u = ratio[i];
		const bool rising = u < tip;
		const double root = sqrt((rising ? u : 1 - u) * (rising ? rise : fall));
		ratio[i] = rising ? range.low + root : range.high - root;
	}
}
