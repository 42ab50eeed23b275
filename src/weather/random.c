/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <math.h>

#include "rigbudget/weather.h"

static double polynomial(const double c[8], double x)
{
	double sum = c[7];
	for (int i = 6; i >= 0; i--)
		sum = sum * x + c[i];
	return sum;
}

/* Natural logarithm of p > 0 to 1e-16, of IEEE arithmetic alone: p = m 2^e with m next to 1, then
 * log m = 2 artanh((m - 1) / (m + 1)) by its series. */
static double plain_log(double p)
{
	static const double LN2_HIGH = 0x1.62e42fefa38p-1; /* 41 bits: e times it is exact */
	static const double LN2_LOW = 0x1.ef35793c7673p-45;
	int e = 0;
	double m = frexp(p, &e);
	if (m < 0.70710678118654752) {
		m *= 2;
		e--;
	}
	const double s = (m - 1) / (m + 1);
	const double square = s * s;
	double sum = 0;
	for (int k = 25; k >= 3; k -= 2)
		sum = (sum + 1.0 / k) * square;
	return e * LN2_HIGH + (2 * s + (2 * s * sum + e * LN2_LOW));
}

/* Rational approximations of AS 241, routine PPND16 [WICHURA-1988]. */
double rig_normal_quantile(double p)
{
	static const double A[8] = {3.3871328727963666080e0, 1.3314166789178437745e2,
		1.9715909503065514427e3, 1.3731693765509461125e4, 4.5921953931549871457e4,
		6.7265770927008700853e4, 3.3430575583588128105e4, 2.5090809287301226727e3};
	static const double B[8] = {1, 4.2313330701600911252e1, 6.8718700749205790830e2,
		5.3941960214247511077e3, 2.1213794301586595867e4, 3.9307895800092710610e4,
		2.8729085735721942674e4, 5.2264952788528545610e3};
	static const double C[8] = {1.42343711074968357734e0, 4.63033784615654529590e0,
		5.76949722146069140550e0, 3.64784832476320460504e0, 1.27045825245236838258e0,
		2.41780725177450611770e-1, 2.27238449892691845833e-2, 7.74545014278341407640e-4};
	static const double D[8] = {1, 2.05319162663775882187e0, 1.67638483018380384940e0,
		6.89767334985100004550e-1, 1.48103976427480074590e-1, 1.51986665636164571966e-2,
		5.47593808499534494600e-4, 1.05075007164441684324e-9};
	static const double E[8] = {6.65790464350110377720e0, 5.46378491116411436990e0,
		1.78482653991729133580e0, 2.96560571828504891230e-1, 2.65321895265761230930e-2,
		1.24266094738807843860e-3, 2.71155556874348757815e-5, 2.01033439929228813265e-7};
	static const double F[8] = {1, 5.99832206555887937690e-1, 1.36929880922735805310e-1,
		1.48753612908506148525e-2, 7.86869131145613259100e-4, 1.84631831751005468180e-5,
		1.42151175831644588870e-7, 2.04426310338993978564e-15};
	assert(p > 0 && p < 1);
	const double q = p - 0.5;
	if (fabs(q) <= 0.425) {
		const double r = 0.180625 - q * q;
		return q * polynomial(A, r) / polynomial(B, r);
	}
	const double r = sqrt(-plain_log(q < 0 ? p : 1 - p));
	const double size = r <= 5 ? polynomial(C, r - 1.6) / polynomial(D, r - 1.6)
				   : polynomial(E, r - 5) / polynomial(F, r - 5);
	return q < 0 ? -size : size;
}
