/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/wire_rating.h"

#include <assert.h>
#include <math.h>

#include "rigbudget/conductor.h"
#include "rigbudget/phasor.h"

/* Both books give their ampacities in air of 30 C. */
static const double BOOK_AMBIENT_C = 30.0;

/* Insulation classes of the two books, coolest first. */
static const int AC_CLASS_C[] = {60, 75, 90};
static const int DC_CLASS_C[] = {60, 75, 80, 90, 105, 125};
enum { THINNEST_AC = 14 };
enum { N_AC_CLASSES = 3, N_DC_CLASSES = 6, CLASS_105 = 4 };

/* Ampacity of one copper conductor under 50 V outside engine spaces by class, [CFR-183] 183.425
 * table 5, thinnest first. The column of 105 C is the profile's. */
static const struct {
	int awg;
	double ampacity_a[N_DC_CLASSES];
} DC_TABLE[] = {
	{18, {10, 10, 15, 20, 0, 25}},
	{16, {15, 15, 20, 25, 0, 30}},
	{14, {20, 20, 25, 30, 0, 40}},
	{12, {25, 25, 35, 40, 0, 50}},
	{10, {40, 40, 50, 55, 0, 70}},
	{8, {55, 65, 70, 70, 0, 90}},
	{6, {80, 95, 100, 100, 0, 125}},
	{4, {105, 125, 130, 135, 0, 170}},
	{2, {140, 170, 175, 180, 0, 225}},
	{1, {165, 195, 210, 210, 0, 265}},
	{0, {195, 230, 245, 245, 0, 305}},
	{-1, {225, 265, 285, 285, 0, 355}},
	{-2, {260, 310, 330, 330, 0, 410}},
	{-3, {300, 360, 385, 385, 0, 475}},
};
enum { N_DC_SIZES = sizeof DC_TABLE / sizeof DC_TABLE[0] };

/* Largest fuse on a small low-voltage conductor of a recreational vehicle, [NFPA-70] table
 * 551.10(E)(1). From 14 to 10 AWG it is the same as 240.4(D), which the profile has. */
static const struct {
	int awg;
	double fuse_a;
} DC_SMALL[] = {{18, 6}, {16, 8}};

/* Ambient factors of 60, 75 and 90 C insulation, [NFPA-70] table 310.15(B)(1)(1), each up to its
 * temperature. Those above 1 for air below 26 C are left out: a coach goes where it is warm. */
static const struct {
	double to_c;
	double factor[N_AC_CLASSES];
} AC_AMBIENT[] = {
	{30, {1.00, 1.00, 1.00}},
	{35, {0.91, 0.94, 0.96}},
	{40, {0.82, 0.88, 0.91}},
	{45, {0.71, 0.82, 0.87}},
	{50, {0.58, 0.75, 0.82}},
	{55, {0.41, 0.67, 0.76}},
	{60, {0, 0.58, 0.71}},
	{65, {0, 0.47, 0.65}},
	{70, {0, 0.33, 0.58}},
	{75, {0, 0, 0.50}},
	{80, {0, 0, 0.41}},
	{85, {0, 0, 0.29}},
};
enum { N_AC_AMBIENT = sizeof AC_AMBIENT / sizeof AC_AMBIENT[0] };

/* Factors for so many current-carrying conductors together or more. */
typedef struct {
	int from;
	double factor;
} bundle_row;
/* [NFPA-70] table 310.15(C)(1). */
static const bundle_row AC_BUNDLE[] = {
	{1, 1.0}, {4, 0.8}, {7, 0.7}, {10, 0.5}, {21, 0.45}, {31, 0.40}, {41, 0.35}};
/* [CFR-183] 183.425 for 50 V and more; [ABYC-E11] has the same. */
static const bundle_row DC_BUNDLE[] = {{1, 1.0}, {3, 0.7}, {4, 0.6}, {7, 0.5}, {25, 0.4}};

/* Least copper of vehicle wire in circular mils, read in a wire seller's table of [SAE-J1127]; 3/0
 * from memory. A circular mil is pi/4 square mils; 1 mil is 0.0254 mm. */
static const struct {
	int awg;
	double cmil;
} SAE_AREA[] = {{18, 1537}, {16, 2336}, {14, 3702}, {12, 5833}, {10, 9343}, {8, 14810}, {6, 24538},
	{4, 37360}, {2, 62450}, {1, 77790}, {0, 98980}, {-1, 125100}, {-2, 158600}, {-3, 205500}};
enum { N_SAE_SIZES = sizeof SAE_AREA / sizeof SAE_AREA[0] };
static const double MM2_PER_CMIL = 3.14159265358979323846 / 4.0 * 0.0254 * 0.0254;

/* Terminals are taken at 60 C up to a breaker of 100 A and at 75 C above [NFPA-70] 110.14(C). */
static const double COOL_TERMINALS_TO_A = 100.0;
enum { COOL_TERMINALS_C = 60, WARM_TERMINALS_C = 75 };

static const rig_conductor_size *size_of(int awg)
{
	for (size_t i = 0; i < rig_n_conductor_sizes(); i++)
		if (rig_conductor_size_at(i)->awg == awg)
			return rig_conductor_size_at(i);
	return NULL;
}

/* Index of the class at or below a temperature of at least 60 C. */
static int class_of(rig_supply_kind supply, double temp_c)
{
	const int *classes = supply == RIG_AC ? AC_CLASS_C : DC_CLASS_C;
	int i = supply == RIG_AC ? N_AC_CLASSES - 1 : N_DC_CLASSES - 1;
	while (i > 0 && classes[i] > temp_c)
		i--;
	return i;
}

/* The table's 18 and 16 AWG are for fixtures, not for circuits. */
static double ac_table_a(const rig_conductor_size *size, int class_index)
{
	if (size->awg > THINNEST_AC)
		return 0.0;
	const double columns[N_AC_CLASSES] = {
		size->ampacity_60c_a, size->ampacity_75c_a, size->ampacity_90c_a};
	return columns[class_index];
}

static double dc_table_a(const rig_conductor_size *size, int class_index)
{
	if (class_index == CLASS_105)
		return size->ampacity_105c_12v_a;
	for (size_t i = 0; i < N_DC_SIZES; i++)
		if (DC_TABLE[i].awg == size->awg)
			return DC_TABLE[i].ampacity_a[class_index];
	return 0.0;
}

static double table_a(rig_supply_kind supply, const rig_conductor_size *size, int class_index)
{
	return supply == RIG_AC ? ac_table_a(size, class_index) : dc_table_a(size, class_index);
}

static double ac_ambient_factor(double ambient_c, int class_index)
{
	for (size_t i = 0; i < N_AC_AMBIENT; i++)
		if (ambient_c <= AC_AMBIENT[i].to_c)
			return AC_AMBIENT[i].factor[class_index];
	return 0.0;
}

static double dc_ambient_factor(double ambient_c, double class_c)
{
	if (ambient_c <= BOOK_AMBIENT_C)
		return 1.0;
	if (ambient_c >= class_c)
		return 0.0;
	return sqrt((class_c - ambient_c) / (class_c - BOOK_AMBIENT_C));
}

static double bundle_factor(rig_supply_kind supply, int bundle)
{
	const bundle_row *rows = supply == RIG_AC ? AC_BUNDLE : DC_BUNDLE;
	size_t i = supply == RIG_AC ? sizeof AC_BUNDLE / sizeof AC_BUNDLE[0]
				    : sizeof DC_BUNDLE / sizeof DC_BUNDLE[0];
	while (rows[i - 1].from > bundle)
		i--;
	return rows[i - 1].factor;
}

static double small_a(rig_supply_kind supply, const rig_conductor_size *size)
{
	for (size_t i = 0; supply == RIG_DC && i < sizeof DC_SMALL / sizeof DC_SMALL[0]; i++)
		if (DC_SMALL[i].awg == size->awg)
			return DC_SMALL[i].fuse_a;
	return size->small_conductor_limit_a;
}

static double area_mm2(rig_copper copper, int awg)
{
	for (size_t i = 0; copper == RIG_COPPER_SAE && i < N_SAE_SIZES; i++)
		if (SAE_AREA[i].awg == awg)
			return SAE_AREA[i].cmil * MM2_PER_CMIL;
	return rig_awg_area_mm2(awg);
}

double rig_standard_from_a(rig_supply_kind supply, double least_a)
{
	for (size_t i = 0; i < rig_n_standard_ratings(); i++) {
		const rig_standard_rating *row = rig_standard_rating_at(i);
		if ((supply == RIG_AC ? row->breaker : row->fuse) &&
			rig_covers(row->rating_a, least_a))
			return row->rating_a;
	}
	return 0.0;
}

double rig_standard_to_a(rig_supply_kind supply, double most_a)
{
	double found = 0.0;
	for (size_t i = 0; i < rig_n_standard_ratings(); i++) {
		const rig_standard_rating *row = rig_standard_rating_at(i);
		if ((supply == RIG_AC ? row->breaker : row->fuse) && row->rating_a <= most_a)
			found = row->rating_a;
	}
	return found;
}

double rig_rounded_a(rig_supply_kind supply, double ampacity_a)
{
	if (supply != RIG_AC || ampacity_a <= 0.0)
		return ampacity_a;
	return fmax(ampacity_a, rig_standard_from_a(RIG_AC, ampacity_a));
}

double rig_fuse_need_a(double amps_a, double continuous_a)
{
	assert(continuous_a >= 0 && continuous_a <= amps_a);
	return amps_a + 0.25 * continuous_a;
}

static double terminal_a(const rig_wire_job *job, const rig_conductor_size *size)
{
	double temp_c = job->terminal_c;
	if (temp_c <= 0.0 && job->supply == RIG_DC)
		return 0.0;
	if (temp_c <= 0.0) {
		const double need_a = rig_fuse_need_a(job->amps_a, job->continuous_a);
		const double breaker_a =
			job->fuse_a > 0.0 ? job->fuse_a : rig_standard_from_a(RIG_AC, need_a);
		temp_c = breaker_a > 0.0 && breaker_a <= COOL_TERMINALS_TO_A ? COOL_TERMINALS_C
									     : WARM_TERMINALS_C;
	}
	return table_a(job->supply, size, class_of(job->supply, temp_c));
}

static double copper_c(const rig_wire_job *job, const rig_wire_rating *rating)
{
	if (job->copper_known)
		return job->copper_c;
	if (job->amps_a >= rating->corrected_a)
		return fmax(rating->class_c, job->ambient_c);
	const double share = job->amps_a / rating->corrected_a;
	return job->ambient_c + (rating->class_c - job->ambient_c) * share * share;
}

static void rate_drop(const rig_wire_job *job, rig_wire_rating *rating)
{
	rating->copper_c = copper_c(job, rating);
	if (job->length_m <= 0.0)
		return;
	const rig_run run = {
		job->length_m, rating->area_mm2 / RIG_STRANDED_FACTOR, rating->copper_c};
	rating->drop_v =
		job->supply == RIG_AC
			? rig_run_ac_drop_v(&run,
				  rig_phasor_of(job->volts_v * job->amps_a * job->power_factor,
					  job->power_factor),
				  job->volts_v)
			: rig_run_drop_v(&run, job->amps_a);
	rating->drop_frac = rating->drop_v / job->volts_v;
}

static void rate_fuse(const rig_wire_job *job, rig_wire_rating *rating)
{
	const bool terminals = rating->terminal_a > 0.0 && rating->terminal_a < rating->corrected_a;
	rating->ampacity_a = terminals ? rating->terminal_a : rating->corrected_a;
	rating->limited_by = terminals ? RIG_BY_TERMINAL : RIG_BY_AMPACITY;
	rating->fuse_limit_a = rating->ampacity_a;
	rating->rounded_a = rig_rounded_a(job->supply, rating->ampacity_a);
	if (rating->small_a > 0.0 && rating->small_a < rating->fuse_limit_a) {
		rating->fuse_limit_a = rating->small_a;
		rating->limited_by = RIG_BY_SMALL;
	}
	if (rating->small_a > 0.0)
		rating->rounded_a = fmin(rating->rounded_a, rating->small_a);
}

rig_status rig_wire_rate(const rig_wire_job *job, int awg, rig_wire_rating *rating)
{
	assert(job->supply == RIG_AC || job->supply == RIG_DC);
	assert(job->volts_v > 0 && job->amps_a >= 0 && job->length_m >= 0);
	assert(job->insulation_c >= 60 && job->bundle >= 1);
	const rig_conductor_size *size = size_of(awg);
	if (size == NULL)
		return RIG_NOT_FOUND;
	const int class_index = class_of(job->supply, job->insulation_c);
	const int class_c =
		job->supply == RIG_AC ? AC_CLASS_C[class_index] : DC_CLASS_C[class_index];
	*rating = (rig_wire_rating){
		.awg = awg,
		.area_mm2 = area_mm2(job->copper, awg),
		.class_c = class_c,
		.table_a = table_a(job->supply, size, class_index),
		.ambient_factor = job->supply == RIG_AC
					  ? ac_ambient_factor(job->ambient_c, class_index)
					  : dc_ambient_factor(job->ambient_c, class_c),
		.bundle_factor = bundle_factor(job->supply, job->bundle),
		.terminal_a = terminal_a(job, size),
		.small_a = small_a(job->supply, size),
	};
	rating->corrected_a = rating->table_a * rating->ambient_factor * rating->bundle_factor;
	rate_fuse(job, rating);
	rate_drop(job, rating);
	return RIG_OK;
}
