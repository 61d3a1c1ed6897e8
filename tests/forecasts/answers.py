"""Answers in the formats of the services, built in our own words, for a local server to give."""

import json
from datetime import datetime, timedelta
from pathlib import Path

SAMPLES = Path(__file__).parent / "samples"


def sample(name):
    return json.loads((SAMPLES / name).read_text(encoding="utf-8"))


def open_meteo(
    temperatures=(5.0,) * 48,
    *,
    latitude=52.36,
    longitude=-2.72,
    start="2026-04-18T00:00",
    offset_s=0,
    unit="°C",
    times=None,
    **changes,
):
    """Build one object as the service writes it; `changes` replace whole keys."""
    first = datetime.fromisoformat(start)
    hours = times or [
        (first + timedelta(hours=hour)).isoformat(timespec="minutes")
        for hour in range(len(temperatures))
    ]
    count = len(hours)
    body = {
        "latitude": latitude,
        "longitude": longitude,
        "generationtime_ms": 0.2,
        "utc_offset_seconds": offset_s,
        "timezone": "GMT",
        "timezone_abbreviation": "GMT",
        "elevation": 103.0,
        "hourly_units": {
            "time": "iso8601",
            "temperature_2m": unit,
            "dew_point_2m": unit,
            "wind_speed_10m": "km/h",
            "cloud_cover": "%",
        },
        "hourly": {
            "time": hours,
            "temperature_2m": list(temperatures),
            "dew_point_2m": [1.0] * count,
            "wind_speed_10m": [7.2] * count,
            "cloud_cover": [10] * count,
        },
    }
    return body | changes


def met_norway(
    temperatures=(5.0,) * 48,
    *,
    latitude=52.37,
    longitude=-2.72,
    start="2026-04-18T00:00:00+00:00",
    step_h=1,
    minima=(),
    units=None,
):
    """Build a complete answer; `minima` go into the six hours after each instant."""
    first = datetime.fromisoformat(start)
    series = []
    for number, temperature in enumerate(temperatures):
        at = first + timedelta(hours=number * step_h)
        data = {
            "instant": {
                "details": {
                    "air_temperature": temperature,
                    "dew_point_temperature": 1.0,
                    "wind_speed": 2.0,
                    "cloud_area_fraction": 10.0,
                }
            }
        }
        if number < len(minima):
            data["next_6_hours"] = {"details": {"air_temperature_min": minima[number]}}
        series.append({"time": at.strftime("%Y-%m-%dT%H:%M:%SZ"), "data": data})
    return {
        "type": "Feature",
        "geometry": {"type": "Point", "coordinates": [longitude, latitude, 103]},
        "properties": {
            "meta": {
                "updated_at": "2026-04-18T08:00:00Z",
                "units": units or {"air_temperature": "celsius", "wind_speed": "m/s"},
            },
            "timeseries": series,
        },
    }


def us_grid(spans, *, minima=(), unit="wmoUnit:degC", latitude=45.26, longitude=-122.69):
    """Build a grid out of (validTime, value) spans of temperature."""

    def layer(pairs, uom):
        return {"uom": uom, "values": [{"validTime": t, "value": v} for t, v in pairs]}

    ring = [[longitude, latitude], [longitude + 0.02, latitude], [longitude, latitude + 0.02]]
    return {
        "type": "Feature",
        "geometry": {"type": "Polygon", "coordinates": [ring]},
        "properties": {
            "updateTime": "2026-04-18T08:00:00+00:00",
            "elevation": {"unitCode": "wmoUnit:m", "value": 51.8},
            "temperature": layer(spans, unit),
            "minTemperature": layer(minima, unit),
        },
    }
