/* The kernels of chem/seawater in C, to see what the compiler of Go costs: the same
 * formulas in the same order, over the same waters. Prints nanoseconds for each. */
#define _POSIX_C_SOURCE 199309L
#include <math.h>
#include <stdio.h>
#include <time.h>

#define N 1000
#define ROUNDS 3000
#define KERNEL static __attribute__((noinline)) double

static double quadratic(double x, double a, double b, double c) { return a + x * (b + x * c); }
static double cubic(double x, double a, double b, double c, double d) { return a + x * b + x * x * (c + x * d); }
static double quartic(double x, double a, double b, double c, double d, double e) {
	double s = x * x;
	return a + x * b + s * (c + x * d + s * e);
}
static double quintic(double x, double a, double b, double c, double d, double e, double f) {
	double s = x * x;
	return a + x * b + s * (c + x * d + s * (e + x * f));
}
static double septic(double x, double a, double b, double c, double d, double e, double f, double g, double h) {
	double s = x * x;
	return a + x * b + s * (c + x * d + s * (e + x * f + s * (g + x * h)));
}

static const double unit = 40 * 35.16504 / 35;

struct volume { double w, v2, v3, v4, v5; };

static struct volume volume_at(double t) {
	double y = t / 40;
	struct volume v = {
		septic(y, 100015.695367145, -270.983805184062, 1455.0364540468, -672.50778314507, 397.968445406972,
			-194.618310617595, 63.5113936641785, -9.63108119393062),
		quartic(y, -3310.49154044839, 729.116529735046, -860.764303783977, 694.244814133268, -297.728741987187),
		quartic(y, 199.459603073901, -175.292041186547, 383.058066002476, -460.319931801257, 234.565187611355),
		-54.7919133532887 + y * -22.6683558512829, 36.0284195611086};
	return v;
}

KERNEL density(double sa, double t) {
	struct volume v = volume_at(t);
	double x = sqrt(sa / unit);
	return 1e8 / (v.w + x * x * cubic(x, v.v2, v.v3, v.v4, v.v5));
}

KERNEL salinity_from_density(double rho, double t) {
	struct volume v = volume_at(t);
	double share = (1e8 / rho - v.w) / v.v2;
	double c1 = v.v3 / v.v2, c2 = v.v4 / v.v2, c3 = v.v5 / v.v2, root = sqrt(share);
	double x = root * cubic(root, 1, -c1 / 2, 5. / 8 * c1 * c1 - c2 / 2, 3. / 2 * c1 * c2 - c1 * c1 * c1 - c3 / 2);
	if (share == 0)
		return 0;
	for (int i = 0; i < 2; i++) {
		double miss = x * x * cubic(x, 1, c1, c2, c3) - share;
		double slope = x * cubic(x, 2, 3 * c1, 4 * c2, 5 * c3), bend = cubic(x, 2, 6 * c1, 12 * c2, 20 * c3);
		x -= miss * slope / (slope * slope - miss * bend / 2);
	}
	return unit * x * x;
}

struct curve { double f, standard; };

static struct curve curve_at(double t) {
	double t68 = 1.00024 * t;
	struct curve c = {(t68 - 15) / (1 + 0.0162 * (t68 - 15)),
		42.9140 * quartic(t68, 0.6766097, 2.00564e-2, 1.104259e-4, -6.9698e-7, 1.0031e-9)};
	return c;
}

static double pss78(struct curve c, double x) {
	return quintic(x, 0.0080, -0.1692, 25.3851, 14.0941, -7.0261, 2.7081) +
		c.f * quintic(x, 0.0005, -0.0056, -0.0066, -0.0375, 0.0636, -0.0144);
}

static double slope(struct curve c, double x) {
	return quartic(x, -0.1692, 2 * 25.3851, 3 * 14.0941, 4 * -7.0261, 5 * 2.7081) +
		c.f * quartic(x, -0.0056, 2 * -0.0066, 3 * -0.0375, 4 * 0.0636, 5 * -0.0144);
}

/* From a practical salinity of 2 on; the waters of this program have more. */
KERNEL salinity_from_conductivity(double conductivity, double t) {
	struct curve c = curve_at(t);
	return pss78(c, sqrt(conductivity / c.standard));
}

KERNEL conductivity(double sp, double t) {
	struct curve c = curve_at(t);
	double root = sqrt(sp);
	double x = quartic(root, 4.8964e-3, 0.1933658, -6.7287e-3, 6.0624e-4, -3.172e-5) +
		c.f * quadratic(root, 1.509e-5, 9.624e-5, -1.668e-5);
	x -= (pss78(c, x) - sp) / slope(c, x);
	x -= (pss78(c, x) - sp) / slope(c, x);
	return c.standard * x * x;
}

static double first[N], second[N];
static volatile double sink;

static void measure(const char *name, double (*kernel)(double, double)) {
	double best = 1e9;
	for (int round = 0; round < ROUNDS; round++) {
		struct timespec from, to;
		double sum = 0;
		clock_gettime(CLOCK_MONOTONIC, &from);
		for (int i = 0; i < N; i++)
			sum += kernel(first[i], second[i]);
		clock_gettime(CLOCK_MONOTONIC, &to);
		sink = sum;
		double ns = ((to.tv_sec - from.tv_sec) * 1e9 + (to.tv_nsec - from.tv_nsec)) / N;
		best = ns < best ? ns : best;
	}
	printf("%s %.1f\n", name, best);
}

/* salinity and temperature wander over sea and brackish water as in the Go benchmark */
static double salt(int i) { return 3 + 37 * ((i * 7919) % N) / (double)N; }

int main(void) {
	for (int i = 0; i < N; i++)
		first[i] = salt(i), second[i] = 40. * i / N;
	measure("Density", density);
	measure("Conductivity", conductivity);
	for (int i = 0; i < N; i++)
		first[i] = conductivity(salt(i), second[i]);
	measure("SalinityFromConductivity", salinity_from_conductivity);
	for (int i = 0; i < N; i++)
		first[i] = density(salt(i), second[i]);
	measure("AbsoluteSalinityFromDensity", salinity_from_density);
	return 0;
}
