/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "rigbudget/irradiance.h"
#include "weather/daylight.h"

typedef struct {
	double global_wm2, beam_wm2, diffuse_wm2;
	double cos_zenith, azimuth_rad, normal_wm2;
} hour_sky;

static double on_plane_wm2(const hour_sky *hour, const rig_mount *mount)
{
	const rig_plane plane = {.tilt_rad = mount->tilt_rad, .azimuth_rad = mount->heading_rad};
	const rig_sky sky = {
		.light = {hour->global_wm2, hour->beam_wm2, hour->diffuse_wm2},
		.sun = {acos(hour->cos_zenith), hour->azimuth_rad},
		.normal_wm2 = hour->normal_wm2,
	};
	return rig_plane_light_wm2(mount->isotropic
					   ? rig_tilt_isotropic(&sky, plane, mount->albedo_frac)
					   : rig_tilt_hay_davies(&sky, plane, mount->albedo_frac));
}

void rig_day_on_plane(
	const rig_day_hours *hours, const rig_mount *plane, double plane_wm2[RIG_DAY_HOURS])
{
	for (int i = 0; i < RIG_DAY_HOURS; i++) {
		plane_wm2[i] = hours->ghi_wm2[i];
		if (plane->tilt_rad == 0)
			continue;
		hour_sky hour = {hours->ghi_wm2[i], 0, hours->dhi_wm2[i], hours->cos_zenith[i],
			hours->azimuth_rad[i], hours->normal_wm2};
		if (hour.cos_zenith > 0)
			hour.beam_wm2 = fmin(hour.normal_wm2,
				(hour.global_wm2 - hour.diffuse_wm2) / hour.cos_zenith);
		plane_wm2[i] = on_plane_wm2(&hour, plane);
	}
}

rig_status rig_year_on_plane(
	const rig_hourly_year *year, const rig_mount *plane, double plane_wm2[RIG_YEAR_HOURS])
{
	if (plane->tilt_rad != 0 && !(year->located && year->has_beam))
		return RIG_BAD_INPUT;
	const rig_place place = {.latitude_deg = year->latitude_deg,
		.longitude_deg = year->longitude_deg,
		.utc_offset_h = year->utc_offset_h};
	for (int day = 0; day < RIG_YEAR_DAYS; day++) {
		rig_day_hours sun;
		rig_sun_hours(&place, day, &sun);
		for (int i = 0; i < RIG_DAY_HOURS; i++) {
			const int at = day * RIG_DAY_HOURS + i;
			const hour_sky hour = {year->ghi_wm2[at], year->dni_wm2[at],
				year->dhi_wm2[at], sun.cos_zenith[i], sun.azimuth_rad[i],
				sun.normal_wm2};
			plane_wm2[at] = plane->tilt_rad == 0 ? year->ghi_wm2[at]
							     : on_plane_wm2(&hour, plane);
		}
	}
	return RIG_OK;
}
