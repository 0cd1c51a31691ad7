"""Good inputs of every working, as a person types them; between them they use every field and reach every result."""

GOOD: dict[str, list[dict[str, str]]] = {
    "charge_limit": [
        {
            "refrigerant": "R-32", "equipment": "split_fixed", "room_area": "120 ft2", "release_height": "1.8 m",
            "room_height": "8 ft", "charge": "2.2 kg ± 0.02", "below_ground": "no",
        },
        {"refrigerant": "R-290", "equipment": "self_contained_cabinet", "charge": "140 g"},
    ],
    "line_set": [
        {
            "refrigerant": "R-410A", "liquid_outside_diameter": "3/8 in", "wall": "0.032 in", "length": "45 ft",
            "included_length": "15 ft", "included_mass": "0 oz", "liquid_temperature": "95 F",
            "plate_mass_per_length": "0.6 oz/ft",
        },
        {"refrigerant": "R-454B", "liquid_bore": "7.9 mm", "length": "12 m", "included_length": "5 m"},
    ],
    "recovery_fill": [
        {
            "refrigerant": "R-410A", "water_capacity": "47.6 lb", "tare": "27.5 lb", "gross_now": "47.6 lb",
            "service_pressure": "400 psig", "contents": "recovered", "stamped_limit": "50 lb",
        },
        {"refrigerant": "R-744", "water_capacity": "20 L", "fill_fraction": "68 %", "elevation": "300 m"},
    ],
    "recovery_level": [
        {"refrigerant": "R-134a", "full_charge": "250 lb", "reading": "16 inHgv"},
        {"refrigerant": "R-744", "full_charge": "30 kg", "major_repair": "no", "elevation": "2150 m"},
    ],
    "leak_rate": [
        {
            "method": "annualizing", "full_charge": "200 lb", "added_mass": "12 lb", "days_since_last": "45",
            "use": "commercial_refrigeration", "refrigerant": "R-448A",
        },
        {"method": "rolling", "full_charge": "300 lb", "added_mass": "30 lb", "added_last_year": "35 lb"},
    ],
    "co2_equivalent": [
        {"refrigerant": "R-410A", "mass": "24 kg", "leak_detection": "yes"},
        {"refrigerant": "R-290", "mass": "150 g", "basis": "AR6", "hermetically_sealed": "yes", "residential": "yes"},
    ],
    "saturation": [{"refrigerant": "R-410A", "pressure": "118 psig"}, {"refrigerant": "R-407C", "temperature": "40 F"}],
    "superheat": [
        {
            "refrigerant": "R-410A", "suction_pressure": "118 psig", "suction_temperature": "52 F", "target": "10 F",
            "tolerance": "5 F", "suction_at": "evaporator_outlet", "suction_line_drop": "1 psi", "metering": "fixed",
            "liquid_pressure": "320 psig", "elevation": "500 ft", "barometer": "990 hPa",
        }
    ],
    "subcooling": [
        {
            "refrigerant": "R-410A", "liquid_pressure": "320 psig", "liquid_temperature": "90 F", "target": "10 F",
            "tolerance": "3 F", "liquid_at": "device_inlet", "suction_pressure": "118 psig",
        },
        {
            "refrigerant": "R-410A", "discharge_pressure": "330 psig", "condenser_drop": "5 psi",
            "liquid_temperature": "90 F",
        },
    ],
    "target_superheat": [{"indoor_wet_bulb": "67 F", "outdoor_dry_bulb": "90 F", "basis": "table"}],
    "rest_pressure": [
        {"refrigerant": "R-22", "pressure": "180 psig", "temperature": "95 F", "second_temperature": "94 F"}
    ],
    "site_pressure": [{"elevation": "2150 m"}],
    "vacuum_level": [{"pressure": "500 micron"}],
    "evacuation_time": [
        {
            "volume": "20 L", "pump_speed": "5 cfm", "target_pressure": "300 micron", "start_pressure": "90 kPa",
            "ultimate_pressure": "15 micron ± 10 %", "hoses": "3/8 in; 5 ft; no; 1\n1/4 in; 5 ft; yes; 1",
            "leak": "1e-4 Pa.m3/s", "gauge_at": "system",
        },
    ],
    "vacuum_rise": [
        {
            "readings": "\n".join(f"{60 * step} {310 + step % 2} micron" for step in range(16)), "volume": "20 L",
            "coldest_temperature": "60 F", "limit": "500 micron", "limit_time": "10 min", "levelling": "2 min",
        },
    ],
    "hose_conductance": [
        {"bore": "3/8 in", "length": "5 ft", "mean_pressure": "500 micron", "gas": "air", "temperature": "70 F"},
    ],
    "standing_pressure": [
        {
            "start_pressure": "500 psig", "start_temperature": "70 F\n72 F", "end_pressure": "503 psig ± 1",
            "end_temperature": "76 F\n77 F", "duration": "6 h", "volume": "20 L", "gas": "nitrogen",
            "volume_shares": "60 %\n40 %", "same_gauge": "yes", "refrigerant": "R-410A", "barometer": "1000 hPa",
            "end_barometer": "998 hPa", "gauge_resolution": "1 psi", "temperature_doubt": "1 F",
        },
    ],
    "test_plan": [
        {
            "kind": "tightness", "design_pressures": "450 psig\n250 psig", "relief_pressure": "300 psig",
            "fill_temperature": "60 F", "hottest_temperature": "95 F", "factor": "1.1",
        },
    ],
    "moist_air": [
        {"dry_bulb": "80 F", "wet_bulb": "67 F", "elevation": "1600 m"},
        {"dry_bulb": "27 C", "relative_humidity": "50 %"},
        {"dry_bulb": "-5 C", "dew_point": "-9 C"},
    ],
    "air_side": [
        {
            "airflow": "1200 cfm ± 5 %", "entering_dry_bulb": "80 F", "entering_wet_bulb": "67 F",
            "leaving_dry_bulb": "55 F", "leaving_relative_humidity": "95 %",
        },
        {
            "airflow": "570 sL/s", "entering_dry_bulb": "27 C", "entering_relative_humidity": "50 %",
            "leaving_dry_bulb": "14 C", "leaving_wet_bulb": "13 C", "elevation": "1600 m",
        },
    ],
    "heater_airflow": [
        {"power": "10 kW ± 2 %", "temperature_rise": "36 F", "entering_dry_bulb": "70 F", "blower_power": "400 W"},
        {"voltage": "235 V", "current": "75 A", "phases": "1", "temperature_rise": "20 K"},
    ],
    "run_capacitor": [
        {"current": "4 A", "voltage": "370 V", "frequency": "60 Hz", "rated": "30 uF", "tolerance": "6 %"}
    ],
    "compressor_map": [
        {
            "coefficients": "[217, 5.09, -0.593, 0.0438, -0.0214, 0.0104, 7.9e-5, -5.73e-5, 1.79e-4, -8.08e-5]",
            "coefficients_in": "F", "suction_dew_temperature": "45 F", "discharge_dew_temperature": "130 F ± 1",
            "rated_superheat": "20 F", "actual_suction_temperature": "75 F", "value_unit": "lb/h",
        },
        {
            "coefficients": "217\n5.09\n-0.593\n0.0438\n-0.0214\n0.0104\n7.9e-5\n-5.73e-5\n1.79e-4\n-8.08e-5",
            "coefficients_in": "C", "suction_dew_temperature": "5 C", "discharge_dew_temperature": "50 C",
            "rated_return_temperature": "18 C", "volumetric_fraction": "0.5", "actual_suction_temperature": "12 C",
        },
    ],
    "voltage_imbalance": [{"voltages": '["462 V", "463 V ± 1", "455 V"]'}],
}  # fmt: skip
