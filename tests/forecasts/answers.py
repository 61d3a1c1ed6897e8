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
