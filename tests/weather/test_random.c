/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_cdf.h>
#include <math.h>

#include "outside.h"
#include "rigbudget/weather.h"
#include "suites.h"

/* The last row counts and keys with digits of pi. */
static const outside_series ANSWERS = {"weather",
	"Words of the random generator that are not its authors' known answers",
	"[SALMON-2011]; from memory", "none"};
static const struct {
	uint32_t key[2], counter[4], words[4];
} PHILOX[] = {
	{{0, 0}, {0, 0, 0, 0}, {0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8}},
	{{0xffffffff, 0xffffffff}, {0xffffffff, 0xffffffff, 0xffffffff, 0xffffffff},
		{0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd}},
	{{0xa4093822, 0x299f31d0}, {0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344},
		{0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1}},
};

START_TEST(philox_gives_its_known_answers)
{
	uint32_t words[4];
	rig_philox(PHILOX[_i].key, PHILOX[_i].counter, words);
	int n_other = 0;
	for (int i = 0; i < 4; i++)
		n_other += words[i] != PHILOX[_i].words[i];
	OUTSIDE(&ANSWERS, n_other, 0, 0, "case %d of %d, of 4", _i + 1, COUNT(PHILOX));
}
END_TEST

static const outside_series NORMALS = {"weather", "Quantile of the normal distribution",
	"tables of it; the tail from [WICHURA-1988]; from memory", "last bits"};
static const outside_series BESIDE = {"weather",
	"Quantile of the normal distribution off the library's, relative or absolute",
	"[GSL], 1,355 shares over all branches", "1e-13"};
static const struct {
	double p, figure, tol;
} NORMAL[] = {
	{0.5, 0, 0},
	{0.25, -0.6744897501960817, 1e-15},
	{0.975, 1.959963984540054, 1e-14},
	{0.001, -3.090232306167814, 1e-14},
	{1e-20, -9.262340089798408, 1e-13},
};

START_TEST(normal_figures_are_the_tables)
{
	OUTSIDE(&NORMALS, rig_normal_quantile(NORMAL[_i].p), NORMAL[_i].figure,
		NORMAL[_i].tol + 1e-300, "share %g", NORMAL[_i].p);
}
END_TEST

/* A general-purpose library beside it, over all three branches and both sides. */
START_TEST(normal_figures_agree_with_gsl)
{
	double worst = 0;
	double p = 1e-15;
	for (int i = 0; i < 355; i++) {
		worst = fmax(worst, fabs(rig_normal_quantile(p) / gsl_cdf_ugaussian_Pinv(p) - 1));
		p *= 1.1;
	}
	for (int i = 1; i < 1000; i++) {
		p = i / 1000.0;
		worst = fmax(worst, fabs(rig_normal_quantile(p) - gsl_cdf_ugaussian_Pinv(p)));
		ck_assert_double_eq_tol(rig_normal_quantile(p), -rig_normal_quantile(1 - p), 1e-14);
	}
	OUTSIDE_WORST(&BESIDE, worst, 1e-13, "worst");
}
END_TEST

Suite *random_suite(void);
Suite *random_suite(void)
{
	Suite *suite = suite_create("random");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, philox_gives_its_known_answers, 0, COUNT(PHILOX));
	tcase_add_loop_test(all, normal_figures_are_the_tables, 0, COUNT(NORMAL));
	tcase_add_test(all, normal_figures_agree_with_gsl);
	suite_add_tcase(suite, all);
	return suite;
}
