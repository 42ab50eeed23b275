/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rigbudget.h: the whole public interface. */
#ifndef RIG_RIGBUDGET_H
#define RIG_RIGBUDGET_H

#include "rigbudget/battery.h"
#include "rigbudget/breaker.h"
#include "rigbudget/clearness.h"
#include "rigbudget/coach.h"
#include "rigbudget/conductor.h"
#include "rigbudget/diag.h"
#include "rigbudget/document.h"
#include "rigbudget/energy.h"
#include "rigbudget/estimate.h"
#include "rigbudget/figure.h"
#include "rigbudget/generator.h"
#include "rigbudget/init.h"
#include "rigbudget/inverter.h"
#include "rigbudget/irradiance.h"
#include "rigbudget/panel.h"
#include "rigbudget/phasor.h"
#include "rigbudget/place.h"
#include "rigbudget/profile.h"
#include "rigbudget/readings.h"
#include "rigbudget/report.h"
#include "rigbudget/shed.h"
#include "rigbudget/shore.h"
#include "rigbudget/solar.h"
#include "rigbudget/sources.h"
#include "rigbudget/status.h"
#include "rigbudget/sun.h"
#include "rigbudget/supply_voltage.h"
#include "rigbudget/thermal.h"
#include "rigbudget/trip.h"
#include "rigbudget/voltage.h"
#include "rigbudget/weather.h"
#include "rigbudget/wiring.h"

#endif
