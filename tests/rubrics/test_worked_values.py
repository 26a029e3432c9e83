"""Relationships checked against worked examples and handbook values of others.

Each row puts the published data into one relationship, solves it for one quantity and compares with the printed
figure: half a unit in its last place. `slack` widens that to so many units in the last place; `because` says why
(what comes out, mostly where the book rounded on the way).
Numbers are restated in SI units; angles are in degrees unless the row says radians.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

import pytest
from scipy.optimize import brentq

from .files import REAL, constants, quantities, relationships
from .plain import evaluate, letters, sides


@dataclass(frozen=True, slots=True)
class Row:
    relationship: str
    given: Mapping[str, float]
    find: str
    printed: str
    source: str
    slack: float = 0.5
    because: str = ""
    radians: bool = field(default=False, kw_only=True)

    def __str__(self) -> str:
        return f"{self.relationship}: {self.find} = {self.printed}"


def book(example: str) -> str:
    return f"OpenStax College Physics 2e, example {example!r}"


MEMORY = "from memory"
CODATA = "CODATA 2022"
E19, H34, C8, K23 = 1.60e-19, 6.63e-34, 3.00e8, 1.38e-23

TABLE = (
    # motion
    Row("acceleration from change of velocity", {"Δv": -15.0, "Δt": 1.80}, "a", "-8.33", book("A Racehorse Leaves the Gate")),
    Row("acceleration", {"u": 0, "v": 30.0 / 3.6, "t": 20.0}, "a", "0.417", book("A Subway Train Speeding Up")),
    Row("speed", {"v": 4.00, "t": 120}, "s", "480", book("How Far does the Jogger Run?")),
    Row("velocity and time at constant acceleration", {"u": 70.0, "a": -1.50, "t": 40.0}, "v", "10.0", book("An Airplane Slowing Down")),
    Row("displacement and time from rest", {"a": 26.0, "t": 5.56}, "s", "402", book("Displacement of an Accelerating Object: Dragsters")),
    Row("velocity and displacement at constant acceleration", {"u": 0, "a": 26.0, "s": 402}, "v", "145", book("Final Velocity: Dragsters")),
    Row("stopping distance", {"u": 30.0, "a": -7.00}, "s", "64.3", book("How Far Does a Car Go When Coming to a Halt?")),
    Row("displacement and time at constant acceleration", {"u": 10.0, "a": 2.00, "t": 10.0}, "s", "200", book("A Car Merges into Traffic")),
    Row("height of a projectile", {"u_y": 13.0, "t": 1.00, "g": 9.80}, "y", "8.10", book("A Rock Thrown Upward")),
    Row("vertical velocity of a projectile", {"u_y": 13.0, "t": 1.00, "g": 9.80}, "v_y", "3.20", book("A Rock Thrown Upward")),
    Row("free fall from rest, height and time", {"h": 1.0000, "t": 0.45173}, "g", "9.8010", book("Find g from Data on a Falling Object")),
    Row(
        "greatest height of a projectile",
        {"u": 70.0, "θ": 75.0, "g": 9.80},
        "H",
        "233",
        book("A Fireworks Projectile Explodes High and Away"),
    ),
    Row("horizontal component of velocity", {"v": 25.0, "θ": 35.0}, "v_x", "20.5", book("Hot Rock Projectile")),
    Row("speed from its components", {"v_x": 1.20, "v_y": 0.750}, "v", "1.42", book("A Boat on a River")),
    Row("direction of a velocity", {"v_x": 1.20, "v_y": 0.750}, "θ", "32.0", book("A Boat on a River")),
    # forces and moments
    Row("Newton's second law", {"F": 51, "m": 24}, "a", "2.1", book("What Acceleration Can a Person Produce when Pushing a Lawn Mower?")),
    Row("weight", {"m": 75.0, "g": 9.80}, "W", "735", book("What Does the Bathroom Scale Read in an Elevator?")),
    Row(
        "supporting force when accelerating upwards",
        {"m": 75.0, "a": 1.20, "g": 9.80},
        "F",
        "825",
        book("What Does the Bathroom Scale Read?"),
    ),
    Row("acceleration down a smooth slope", {"θ": 25.0, "g": 9.80}, "a", "4.14", book("Weight on an Incline")),
    Row(
        "tension in two equal slanting cables", {"θ": 5.0, "m": 70.0, "g": 9.80}, "F", "3.9e3", book("What Is the Tension in a Tightrope?")
    ),
    Row("net force on an accelerating body", {"F_1": 4.5e5, "m": 5.0e6, "a": 7.5e-2}, "F_2", "7.5e4", book("Drag Force on a Barge")),
    Row("resultant of two perpendicular forces", {"F_x": 2.7e5, "F_y": 3.6e5}, "F", "4.5e5", book("Drag Force on a Barge")),
    Row("principle of moments", {"F_1": 26.0, "d_1": 1.60, "F_2": 32.0}, "d_2", "1.30", book("She Saw Torques On A Seesaw")),
    Row("two supports of a beam", {"F_1": 32.7, "m": 5.00, "g": 9.80}, "F_2", "16.3", book("What Force Is Needed to Support a Weight?")),
    # momentum, energy
    Row("momentum", {"m": 110, "v": 8.00}, "p", "880", book("A Football Player and a Football")),
    Row("force from rate of change of momentum", {"Δp": 3.306, "Δt": 5.0e-3}, "F", "661", book("Venus Williams' Racquet")),
    Row(
        "conservation of momentum, target at rest, bodies that join",
        {"m_1": 0.150, "u_1": 35.0, "m_2": 70.0},
        "v",
        "7.48e-2",
        book("Inelastic Collision of a Puck and a Goalie"),
    ),
    Row(
        "conservation of momentum",
        {"m_1": 0.350, "u_1": 2.00, "m_2": 0.500, "u_2": -0.500, "v_1": -4.00},
        "v_2",
        "3.70",
        book("Two Carts Collide"),
    ),
    Row("work", {"F": 75.0, "s": 25.0, "θ": 35.0}, "W", "1536", book("Calculating the Work You Do to Push a Lawn Mower")),
    Row("kinetic energy", {"m": 30.0, "v": 0.500}, "E_k", "3.75", book("Calculating the Kinetic Energy of a Package")),
    Row("kinetic energy", {"m": 30.0, "E_k": 95.75}, "v", "2.53", book("Determining Speed from Work and Energy")),
    Row("speed from a fall", {"m": 1.0, "h": 20.0, "g": 9.80}, "v", "19.8", book("Finding the Speed of a Roller Coaster from its Height")),
    Row("spring to kinetic energy", {"k": 250.0, "m": 0.100, "x": 0.0400}, "v", "2.00", book("Calculate the Speed of a Toy Car")),
    Row("stopping by a steady force", {"m": 65.0, "u": 6.00, "F": 450}, "s", "2.60", book("How Far a Baseball Player Slides")),
    Row(
        "power to raise a load",
        {"m": 60.0, "g": 9.80, "h": 3.00, "t": 3.50},
        "P",
        "504",
        "1764 J of the 1884 J in " + book("The Power to Climb Stairs"),
    ),
    # circular motion, rotation, oscillations
    Row("speed on a circle", {"v": 15.0, "r": 0.300}, "ω", "50.0", book("How Fast Does a Car Tire Spin?")),
    Row("centripetal acceleration", {"v": 25.0, "r": 500}, "a", "1.25", book("Centripetal Acceleration of a Car Around a Curve")),
    Row("centripetal acceleration from angular velocity", {"r": 0.0750, "ω": 7854}, "a", "4.63e6", book("An Ultracentrifuge")),
    Row("centripetal force", {"m": 900, "v": 25.0, "r": 500}, "F", "1125", book("What Coefficient of Friction Do Car Tires Need?")),
    Row(
        "greatest speed on a flat bend",
        {"m": 900, "v": 25.0, "r": 500, "g": 9.80},
        "μ",
        "0.13",
        book("What Coefficient of Friction Do Car Tires Need?"),
    ),
    Row("banked track", {"r": 100, "g": 9.80, "θ": 65.0}, "v", "45.8", book("What Is the Ideal Speed to Take a Tight Curve?")),
    Row("angular velocity and time", {"ω_0": 220, "ω": 0, "α": -300}, "t", "0.733", book("Duration When the Fishing Reel Slows Down")),
    Row("angle and time", {"ω_0": 0, "α": 110, "t": 2.00}, "θ", "220", book("The Acceleration of a Fishing Reel"), radians=True),
    Row("angular velocity and angle", {"ω_0": 0, "α": 0.250, "θ": 1257}, "ω", "25.1", book("Slow Acceleration of Trains"), radians=True),
    Row("torque and angular acceleration", {"τ": 44.0, "I": 1.25}, "α", "35.2", book("Calculating the Torque in a Kick")),
    Row("moment of inertia of a disc", {"m": 50.0, "r": 1.50}, "I", "56.25", book("The Effect of Mass Distribution on a Merry-Go-Round")),
    Row("rotational kinetic energy", {"I": 1067, "ω": 31.4}, "E_k", "5.26e5", book("Calculating Helicopter Energies")),
    Row("conservation of angular momentum", {"I_1": 2.34, "ω_1": 0.800, "I_2": 0.363}, "ω_2", "5.16", book("A Spinning Skater")),
    Row("period and frequency", {"T": 0.400e-6}, "f", "2.50e6", book("Medical Ultrasound")),
    Row("frequency of a mass on a spring", {"k": 6.53e4, "m": 900}, "f", "1.356", book("Bad Shock Absorbers in a Car")),
    Row("period of a simple pendulum", {"l": 0.75000, "T": 1.7357}, "g", "9.8281", book("The Period of a Pendulum")),
    Row("greatest speed of a mass on a spring", {"k": 6.53e4, "m": 900, "A": 0.100}, "v_m", "0.852", book("A Bumpy Road")),
    Row("period of a simple pendulum", {"l": 0.994, "g": 9.81}, "T", "2.00", "the seconds pendulum, about 0.994 m; " + MEMORY),
    # gravitation
    Row(
        "gravitational field of a planet",
        {"M": 5.98e24, "r": 3.84e8, "G": 6.67e-11},
        "g",
        "2.70e-3",
        book("The Moon in a Curved Path"),
        0.6,
        "2.705",
    ),
    Row("comparing two orbits", {"T_1": 27.3 * 24.0, "r_1": 3.84e8, "r_2": 7.88e6}, "T_2", "1.93", book("One Orbit of an Earth Satellite")),
    Row("escape velocity", {"M": 5.972e24, "r": 6.371e6}, "v", "1.119e4", "handbook value for the Earth, 11.19 km/s; " + MEMORY),
    Row("escape velocity", {"M": 7.346e22, "r": 1.7374e6}, "v", "2.38e3", "handbook value for the Moon, 2.38 km/s; " + MEMORY),
    Row("gravitational field of a planet", {"M": 7.346e22, "r": 1.7374e6}, "g", "1.62", "handbook value for the Moon; " + MEMORY),
    Row("gravitational field of a planet", {"M": 6.417e23, "r": 3.3895e6}, "g", "3.73", "handbook value for Mars, 3.73 N/kg; " + MEMORY),
    Row("orbital period", {"r": 1.495978707e11, "M": 1.9884e30}, "T", "3.156e7", "sidereal year, 365.256 d; " + MEMORY),
    Row("orbital period", {"r": 4.2164e7, "M": 5.9722e24}, "T", "8.616e4", "sidereal day and geostationary radius; " + MEMORY),
    # materials, fluids
    Row(
        "Young modulus from force and extension",
        {"F": 3.0e6, "l": 3020, "A": 2.46e-3, "E": 210e9},
        "x",
        "18",
        book("The Stretch of a Long Cable"),
    ),
    Row("shear modulus", {"S": 80e9, "A": 1.77e-6, "l": 5.00e-3, "x": 1.80e-6}, "F", "51", book("That Nail Does Not Bend Much")),
    Row("bulk modulus", {"p": 5.00e7, "B": 2.2e9, "V": 1.0}, "ΔV", "0.023", book("How Much Is Water Compressed?")),
    Row("Hooke's law", {"F": 784, "x": 1.20e-2}, "k", "6.53e4", book("How Stiff Are Car Springs?")),
    Row("elastic potential energy", {"k": 50.0, "x": 0.150}, "E_e", "0.563", book("A Toy Gun Spring"), 0.51, "0.5625, a tie rounded up"),
    Row("density", {"m": 8.630e-3, "V": 0.830e-6}, "ρ", "1.04e4", book("Is the Coin Authentic?")),
    Row(
        "pressure of a liquid column",
        {"p": 1.01e5, "ρ": 1.00e3, "g": 9.80},
        "h",
        "10.3",
        book("What Depth of Water Creates the Same Pressure?"),
    ),
    Row(
        "hydraulic press",
        {"F_1": 500, "A_1": math.pi * 0.250**2, "A_2": math.pi * 1.25**2},
        "F_2",
        "1.25e4",
        book("Pascal Puts on the Brakes"),
    ),
    Row("upthrust", {"ρ": 1.000e3, "g": 9.80, "V": 1.00e5}, "U", "9.80e8", book("Buoyant force: dependency on shape")),
    Row(
        "continuity of flow",
        {"A_1": 0.900**2, "v_1": 1.96, "A_2": 0.250**2},
        "v_2",
        "25.5",
        book("Speed Increases When a Tube Narrows"),
        1.0,
        "25.40 from the rounded speed",
    ),
    Row(
        "Bernoulli's equation on the level",
        {"p_2": 1.01e5, "ρ": 1.00e3, "v_1": 1.96, "v_2": 25.5},
        "p_1",
        "4.24e5",
        book("Pressure Drops as a Fluid Speeds Up"),
    ),
    Row(
        "flow through a narrow tube",
        {"Q": 1.20e-7, "r": 0.150e-3, "η": 1.00e-3, "l": 2.50e-2},
        "p",
        "1.51e4",
        "1.62e4 Pa less 1.066e3 Pa in " + book("What Pressure Produces This Flow Rate?"),
    ),
    Row("Reynolds number", {"ρ": 1025, "v": 1.70, "d": 0.300e-3, "η": 1.00e-3}, "N", "523", book("Is This Flow Laminar or Turbulent?")),
    Row("pressure in a bubble", {"γ": 0.037, "r": 2.00e-4}, "p", "740", book("Pressure Inside a Bubble")),
    Row("terminal speed with drag", {"m": 85, "g": 9.80, "C": 1.0, "ρ": 1.21, "A": 0.70}, "v", "44", book("A Terminal Velocity")),
    # thermal, gases
    Row("linear expansion", {"α": 12e-6, "l": 1275, "ΔT": 55}, "Δl", "0.84", book("The Golden Gate Bridge")),
    Row("specific heat capacity", {"m": 0.250, "c": 4186, "ΔT": 60.0}, "Q", "6.28e4", book("Heating Water in an Aluminum Pan")),
    Row(
        "mixing",
        {"m_1": 0.500, "c_1": 900, "T_1": 150, "m_2": 0.250, "c_2": 4186, "T_2": 20.0},
        "T",
        "59.1",
        book("Pouring Cold Water in a Hot Pan"),
    ),
    Row("specific latent heat", {"Q": 1.15e6, "L": 334e3}, "m", "3.44", book("Conduction Rate Through an Ice Box")),
    Row("heat conduction", {"k": 0.010, "A": 0.950, "ΔT": 35.0, "d": 0.0250}, "P", "13.3", book("Conduction Rate Through an Ice Box")),
    Row(
        "net thermal radiation",
        {"σ": 5.67e-8, "e": 0.97, "A": 1.50, "T_1": 295, "T_2": 306},
        "P",
        "-99",
        book("Net Heat Transfer of a Person"),
    ),
    Row(
        "greatest efficiency of a heat engine",
        {"T_1": 573, "T_2": 300},
        "η",
        "0.476",
        book("Maximum Theoretical Efficiency for a Nuclear Reactor"),
    ),
    Row("first law of thermodynamics", {"Q": 15.00, "W": 6.00}, "ΔU", "9.00", book("Calculating Change in Internal Energy")),
    Row("entropy change", {"Q": 3.34e5, "T": 273}, "ΔS", "1.22e3", book("Entropy Associated with Disorder")),
    Row("pressure law", {"p_1": 7.00e5, "T_1": 291, "T_2": 308}, "p_2", "7.41e5", book("Tire Pressure")),
    Row("ideal gas equation", {"p": 7.00e5, "V": 2.00e-3, "R": 8.31, "T": 291}, "n", "0.579", book("Gas in a Bike Tire")),
    Row(
        "ideal gas equation with molecules",
        {"p": 1.01e5, "V": 1.00, "k": K23, "T": 273},
        "N",
        "2.68e25",
        book("Molecules in a Cubic Meter of Gas"),
    ),
    Row(
        "ideal gas equation",
        {"p": 101325, "n": 1, "T": 273.15},
        "V",
        "22.41396954e-3",
        CODATA + ", molar volume of ideal gas (101.325 kPa)",
    ),
    Row("ideal gas equation with molecules", {"p": 101325, "V": 1, "T": 273.15}, "N", "2.68678011e25", CODATA + ", Loschmidt constant"),
    Row("mean kinetic energy of a molecule", {"k": K23, "T": 293}, "E_k", "6.07e-21", book("Kinetic Energy and Speed of a Gas Molecule")),
    Row(
        "molecular speed and temperature",
        {"k": K23, "T": 293, "m": 4.65e-26},
        "c",
        "511",
        book("Kinetic Energy and Speed of a Gas Molecule"),
    ),
    # electricity, circuits, capacitors, fields
    Row("charge and current", {"Q": 720, "t": 4.00}, "I", "180", book("Current in a Truck Battery")),
    Row("Ohm's law", {"V": 12.0, "I": 2.50}, "R", "4.80", book("Resistance: An Automobile Headlight")),
    Row("electrical power", {"I": 2.50, "V": 12.0}, "P", "30.0", book("Hot and Cold Power")),
    Row("electrical power from potential difference and resistance", {"V": 12.0, "R": 0.350}, "P", "411", book("Hot and Cold Power")),
    Row("electrical power from resistance and current", {"P": 411, "R": 0.350}, "I", "34.3", book("Hot and Cold Power")),
    Row("resistivity", {"ρ": 5.6e-8, "l": 4.00e-2, "R": 0.350}, "A", "6.40e-9", book("A Headlight Filament")),
    Row("resistance and temperature", {"R_0": 0.350, "α": 4.5e-3, "ΔT": 2830}, "R", "4.8", book("Hot-Filament Resistance")),
    Row(
        "drift velocity of electrons",
        {"I": 20.0, "n": 8.342e28, "e": E19, "A": 3.310e-6},
        "v",
        "4.53e-4",
        book("Drift Velocity in a Common Wire"),
    ),
    Row("three resistors in series", {"R_1": 1.00, "R_2": 6.00, "R_3": 13.0}, "R", "20.0", book("Analysis of a Series Circuit")),
    Row("three resistors in parallel", {"R_1": 1.00, "R_2": 6.00, "R_3": 13.0}, "R", "0.804", book("Analysis of a Parallel Circuit")),
    Row("resistors in parallel", {"R_1": 6.00, "R_2": 13.0}, "R", "4.11", book("Combining Series and Parallel Circuits")),
    Row("e.m.f. of a complete circuit", {"ε": 12.0, "R": 10.0, "r": 0.100}, "I", "1.188", book("Terminal Voltage and Load")),
    Row("e.m.f. and internal resistance", {"ε": 12.0, "I": 20.0, "r": 0.100}, "V", "10.0", book("Terminal Voltage and Load")),
    Row("power delivered to a load", {"ε": 12.0, "R": 0.500, "r": 0.500}, "P", "72.0", book("Terminal Voltage and Load")),
    Row("parallel-plate capacitor", {"ε_0": 8.85e-12, "A": 1.00, "d": 1.00e-3}, "C", "8.85e-9", book("Parallel Plate Capacitor")),
    Row("capacitance", {"C": 8.85e-9, "V": 3.00e3}, "Q", "26.6e-6", book("Parallel Plate Capacitor"), 0.51, "26.55, a tie rounded up"),
    Row(
        "three capacitors in series",
        {"C_1": 1.000e-6, "C_2": 5.000e-6, "C_3": 8.000e-6},
        "C",
        "0.755e-6",
        book("What Is the Series Capacitance?"),
    ),
    Row("energy of a capacitor", {"E": 4.00e2, "V": 1.00e4}, "C", "8.00e-6", book("Capacitance in a Heart Defibrillator")),
    Row("time constant", {"R": 1.00e3, "C": 8.00e-6}, "τ", "8.00e-3", book("RC Circuit in a Heart Defibrillator")),
    Row(
        "discharge of a capacitor, potential difference",
        {"V_0": 10.0e3, "t": 24.0e-3, "R": 1.00e3, "C": 8.00e-6},
        "V",
        "498",
        book("RC Circuit in a Heart Defibrillator"),
    ),
    Row(
        "Coulomb's law with the Coulomb constant",
        {"k_e": 8.99e9, "Q_1": E19, "Q_2": E19, "r": 0.530e-10},
        "F",
        "8.19e-8",
        book("How Strong is the Coulomb Force?"),
    ),
    Row("Coulomb's law", {"Q_1": E19, "Q_2": E19, "r": 0.530e-10}, "F", "8.19e-8", book("How Strong is the Coulomb Force?")),
    Row("electric field of a point charge", {"Q": 2.00e-9, "r": 5.00e-3}, "E", "7.19e5", book("Electric Field of a Point Charge")),
    Row(
        "electric potential of a point charge",
        {"Q": -3.00e-9, "r": 5.00e-2},
        "V",
        "-539",
        book("What Voltage Is Produced by a Small Charge?"),
    ),
    Row(
        "accelerated electron",
        {"e": E19, "V": 100, "m_e": 9.11e-31},
        "v",
        "5.93e6",
        book("Electrical Potential Energy Converted to Kinetic Energy"),
    ),
    Row("uniform electric field", {"V": 25.0e3, "d": 0.0400}, "E", "6.25e5", book("Field and Force inside an Electron Gun")),
    # magnetism, induction, a.c.
    Row("radius of a charge's path", {"m": 9.11e-31, "v": 6.00e7, "q": E19, "B": 0.500}, "r", "6.83e-4", book("A Magnet on a TV Screen")),
    Row(
        "force on a current", {"I": 20.0, "L": 0.0500, "B": 1.50, "θ": 90.0}, "F", "1.50", book("Magnetic Force on a Current-Carrying Wire")
    ),
    Row(
        "greatest torque on a coil", {"N": 100, "I": 15.0, "A": 0.100**2, "B": 2.00}, "τ", "30.0", book("Torque on a Current-Carrying Loop")
    ),
    Row("field of a long wire", {"r": 5.0e-2, "B": 1.0e-4}, "I", "25", book("Current that Produces a Magnetic Field")),
    Row("field in a solenoid", {"n": 1000, "I": 1600}, "B", "2.01", book("Field Strength inside a Solenoid")),
    Row(
        "force between two parallel wires",
        {"I_1": 1, "I_2": 1, "L": 1, "r": 1},
        "F",
        "2.0000e-7",
        "SI Brochure, 8th edition, former definition of the ampere",
    ),
    Row("Faraday's law", {"N": 1, "ΔΦ": 1.13e-2 * 0.200, "Δt": 0.100}, "ε", "22.6e-3", book("How Great Is the Induced Emf?")),
    Row("e.m.f. in a moving conductor", {"B": 5.00e-5, "L": 2.0e4, "v": 7.80e3}, "ε", "7.80e3", book("Motional Emf of an Object in Orbit")),
    Row(
        "peak e.m.f. of a rotating coil",
        {"N": 200, "A": 7.85e-3, "B": 1.25, "ω": 104.7},
        "ε_m",
        "206",
        book("Maximum Emf of a Generator"),
        0.6,
        "205.5",
    ),
    Row("transformer", {"V_p": 120, "V_s": 15.0, "N_p": 200}, "N_s", "25", book("A Step-Down Transformer")),
    Row("transformer currents", {"I_s": 16.0, "N_p": 200, "N_s": 25}, "I_p", "2.00", book("A Step-Down Transformer")),
    Row(
        "inductance of a solenoid",
        {"N": 200, "A": 1.26e-3, "l": 0.100},
        "L",
        "0.632e-3",
        book("Self-inductance of a Moderate Size Solenoid"),
        1.6,
        "0.6333 from the rounded area",
    ),
    Row("energy of an inductor", {"L": 0.632e-3, "I": 30.0}, "E", "0.284", book("Energy Stored in the Field of a Solenoid")),
    Row("r.m.s. potential difference", {"V_rms": 120}, "V_0", "170", book("Peak Voltage and Power for AC")),
    Row("capacitive reactance", {"f": 60.0, "C": 5.00e-6}, "X_C", "531", book("Capacitive Reactance and then Current")),
    Row("inductive reactance", {"f": 60.0, "L": 3.00e-3}, "X_L", "1.13", book("Inductive Reactance and then Current")),
    Row("impedance", {"R": 40.0, "X_L": 188, "X_C": 3.18}, "Z", "190", book("Impedance and Current"), 1.0, "189.1, printed rounded up"),
    Row("resonant frequency", {"L": 3.00e-3, "C": 5.00e-6}, "f_0", "1.30e3", book("Resonant Frequency and Current")),
    Row("power factor", {"R": 40.0, "Z": 531}, "φ", "85.7", book("Power Factor and Power")),
    # waves, optics
    Row("wave speed from the period", {"λ": 10.0, "T": 5.00}, "v", "2.00", book("Gull in the Ocean")),
    Row("electromagnetic waves", {"c": C8, "f": 1530e3}, "λ", "196", book("Wavelengths of Radio Waves")),
    Row(
        "speed of sound and temperature",
        {"v_2": 331, "T_1": 303, "T_2": 273},
        "v_1",
        "348.7",
        book("What Are the Wavelengths of Audible Sounds?"),
    ),
    Row(
        "speed of sound and temperature",
        {"v_2": 331.3, "T_1": 293.15, "T_2": 273.15},
        "v_1",
        "343.2",
        "handbook values at 0 and 20 °C; " + MEMORY,
    ),
    Row("intensity of a sound from its pressure", {"p": 0.656, "ρ": 1.29, "v": 331}, "I", "5.04e-4", book("Sound Intensity Levels")),
    Row("sound level", {"I": 5.04e-4}, "β", "87", book("Sound Intensity Levels")),
    Row("change of sound level", {"I_1": 1.0, "I_2": 2.00}, "Δβ", "3.01", book("What Happens to the Decibel Level?")),
    Row("Doppler effect, source approaching", {"f_s": 150, "v": 340, "v_s": 35.0}, "f_o", "167", book("A Train Horn")),
    Row("Doppler effect, source receding", {"f_s": 150, "v": 340, "v_s": 35.0}, "f_o", "136", book("A Train Horn")),
    Row("fundamental of a closed pipe", {"v": 344, "f": 128}, "l", "0.672", book("Length of a Tube with a 128 Hz Fundamental")),
    Row("reflection of ultrasound", {"Z_1": 1.34e6, "Z_2": 1.70e6}, "f", "0.014", book("Ultrasound and Fat Tissue")),
    Row("acoustic impedance", {"ρ": 1.204, "c": 343.2}, "Z", "413", "handbook value for air at 20 °C; " + MEMORY),
    Row("refractive index from speeds", {"c": C8, "n": 1.923}, "v", "1.56e8", book("Speed of Light in Matter")),
    Row("Snell's law", {"n_1": 1.00, "θ_1": 30.0, "θ_2": 22.0}, "n_2", "1.33", book("Index of Refraction from Refraction Data")),
    Row("refractive index from angles", {"n": 2.419, "θ_1": 30.0}, "θ_2", "11.9", book("A Larger Change in Direction")),
    Row("critical angle", {"n": 1.49}, "θ_c", "42.2", book("How Big is the Critical Angle Here?")),
    Row("critical angle", {"n": 2.417}, "θ_c", "24.4", "handbook value for diamond; " + MEMORY),
    Row("power of a lens", {"f": 0.0800}, "P", "12.5", book("Power of a Common Magnifying Glass")),
    Row("thin lens equation", {"f": 0.500, "u": 0.750}, "v", "1.50", book("Image of a Light Bulb Filament")),
    Row("thin lens equation", {"f": 0.100, "u": 0.0750}, "v", "-0.300", book("Image Produced by a Magnifying Glass")),
    Row("double slit, angles", {"s": 0.0100e-3, "θ": 10.95, "n": 3}, "λ", "633e-9", book("A Wavelength from an Interference Pattern")),
    Row("diffraction grating", {"d": 1.00e-6, "n": 1, "λ": 380e-9}, "θ", "22.33", book("Typical Diffraction Grating Effects")),
    Row("single slit minimum", {"n": 2, "λ": 550e-9, "θ": 45.0}, "a", "1.56e-6", book("Single Slit Diffraction")),
    Row(
        "resolution of a circular opening",
        {"λ": 550e-9, "D": 2.40},
        "θ",
        "2.80e-7",
        book("Limits of the Hubble Space Telescope"),
        radians=True,
    ),
    Row("thin film, quarter wavelength", {"λ": 550e-9, "n": 1.38}, "d", "99.6e-9", book("Non-reflective Lens Coating")),
    Row("Malus' law", {"I": 0.100, "I_0": 1.0}, "θ", "71.6", book("Intensity Reduction by a Polarizing Filter")),
    Row("polarising angle", {"n_1": 1.00, "n_2": 1.333}, "θ", "53.1", book("Polarization by Reflection")),
    # quantum, nuclear, relativity, astrophysics
    Row("photon energy from wavelength", {"h": H34, "c": C8, "λ": 420e-9}, "E", "4.74e-19", book("A Violet Light")),
    Row(
        "photoelectric effect from wavelength",
        {"h": H34, "c": C8, "λ": 420e-9, "φ": 2.71 * 1.602e-19},
        "E_k",
        "0.39e-19",
        "0.246 eV in " + book("A Violet Light"),
    ),
    Row("photons per second from wavelength", {"P": 10.0, "λ": 580e-9}, "N", "2.92e19", book("How Many Photons per Second?")),
    Row("shortest X-ray wavelength", {"V": 50.0e3}, "λ", "2.48e-11", "1240 eV nm over 50.0 keV in " + book("X-ray Tube Voltage")),
    Row("photon momentum from wavelength", {"h": H34, "λ": 500e-9}, "p", "1.33e-27", book("Electron and Photon Momentum Compared")),
    Row(
        "de Broglie wavelength from speed",
        {"h": H34, "m": 9.11e-31, "λ": 0.167e-9},
        "v",
        "4.36e6",
        book("Electron Wavelength versus Velocity"),
    ),
    Row(
        "de Broglie wavelength of an electron from its potential difference",
        {"V": 54},
        "λ",
        "1.67e-10",
        "electrons of 54 eV on nickel; " + MEMORY,
    ),
    Row(
        "uncertainty of position and momentum",
        {"h": H34, "Δx": 1.00e-11},
        "Δp",
        "5.28e-24",
        book("Heisenberg Uncertainty Principle for an Atom"),
    ),
    Row("spectrum of hydrogen", {"n_1": 2, "n_2": 4}, "λ", "486e-9", book("Wave Interference of a Hydrogen Line")),
    Row("spectrum of hydrogen", {"n_1": 2, "n_2": 3}, "λ", "656e-9", "red line of hydrogen, 656 nm; " + MEMORY),
    Row("spectrum of hydrogen", {"n_1": 1, "n_2": 2}, "λ", "121.5e-9", "first ultraviolet line of hydrogen, 121.5 to 121.6 nm; " + MEMORY),
    Row("Compton scattering", {"θ": 90.0}, "Δλ", "2.42631024e-12", CODATA + ", Compton wavelength"),
    Row("mass-energy", {"m": 9.1093837139e-31}, "E", "8.1871058e-14", CODATA + ", electron mass energy equivalent"),
    Row("mass-energy", {"m": 1.66053906892e-27}, "E", "1.49241809e-10", CODATA + ", atomic mass constant energy equivalent"),
    Row("mass-energy", {"m": 1.00e-3, "c": C8}, "E", "9.00e13", book("Rest Energy is Very Large")),
    Row("mass defect", {"Z": 2, "N": 2, "M": 6.6446573450e-27}, "Δm", "5.044e-29", "28.30 MeV binding energy of helium-4; " + MEMORY),
    Row("nuclear radius", {"A": 56}, "R", "4.6e-15", book("How Small and Dense Is a Nucleus?")),
    Row("nuclear density", {}, "ρ", "2.3e17", book("How Small and Dense Is a Nucleus?")),
    Row("decay constant and half-life", {"T": 5730 * 3.156e7}, "λ", "3.83e-12", "carbon-14, 1.21e-4 per year; " + MEMORY),
    Row(
        "activity from the half-life",
        {"N": 2.664e21, "T": 1600 * 3.156e7},
        "A",
        "3.66e10",
        "one gram of radium-226, about one curie; " + MEMORY,
    ),
    Row(
        "activity from the half-life",
        {"N": 6.52e13, "T": 5730 * 3.16e7},
        "A",
        "250",
        book("How Great Is the 14C Activity in Living Tissue?"),
    ),
    Row("exponential decay of nuclei", {"N": 0.92, "N_0": 1, "λ": 0.693 / 5730}, "t", "6.9e2", book("How Old Is the Shroud of Turin?")),
    Row("equivalent dose", {"D": 0.489, "w": 20}, "H", "9.8", book("Dose from Inhaled Plutonium")),
    Row("relativistic factor", {"v": 0.950 * 299792458}, "γ", "3.20", book("How Long Does a Speedy Muon Live?")),
    Row("time dilation", {"γ": 3.20, "t_0": 1.52e-6}, "t", "4.87e-6", book("How Long Does a Speedy Muon Live?"), 0.6, "4.864"),
    Row(
        "addition of velocities",
        {"u": 0.750 * C8, "v": 0.500 * C8, "c": C8},
        "w",
        "2.727e8",
        "0.909 c in " + book("Relativistic Package Delivery"),
    ),
    Row(
        "relativistic kinetic energy",
        {"γ": 7.0888, "m": 9.11e-31, "c": C8},
        "E_k",
        "4.99e-13",
        book("Relativistic Energy Versus Classical Kinetic Energy"),
    ),
    Row(
        "relativistic Doppler effect, receding source",
        {"λ_s": 0.525, "v": 0.825 * C8, "c": C8},
        "λ_o",
        "1.70",
        book("Radio Waves from a Receding Galaxy"),
    ),
    Row("luminosity of a star", {"r": 6.957e8, "T": 5772}, "L", "3.828e26", "IAU 2015 resolution B3, nominal solar values"),
    Row(
        "brightness and distance",
        {"L": 3.828e26, "d": 1.495978707e11},
        "b",
        "1361",
        "IAU 2015 resolution B3, nominal total solar irradiance",
    ),
    Row("Wien's law", {"T": 5772}, "λ_m", "5.02e-7", "peak of sunlight, about 502 nm; " + MEMORY),
    Row("Wien's law", {"T": 2.725}, "λ_m", "1.06e-3", "background radiation, peak at 1.06 mm; " + MEMORY),
    Row("parallax", {"r": 1.495978707e11, "p": 1 / 3600}, "d", "3.0857e16", "IAU 2015 resolution B2, the parsec"),
    Row("distance modulus", {"m": -26.74, "d": 1.495978707e11}, "M", "4.83", "visual magnitude of the Sun; " + MEMORY),
    Row("distance modulus", {"m": -1.46, "d": 2.64 * 3.0857e16}, "M", "1.43", "Sirius; " + MEMORY),
    Row("radius of a black hole", {"M": 1.9884e30}, "r", "2.95e3", "handbook value for the Sun, 2.95 km; " + MEMORY),
    Row("age of the universe", {}, "t", "4.3e17", "about 14 thousand million years; " + MEMORY, 0.6, "4.348"),
    # uncertainties, graphs
    Row(
        "uncertainty of a product or quotient, in quadrature",
        {"p_x": 0.1 / 7.5, "p_y": 0.05 / 1.50},
        "p_z",
        "0.0359",
        "conventions file 1.4, recomputed there",
    ),
    Row(
        "uncertainty of a product or quotient, added",
        {"p_x": 0.1 / 7.5, "p_y": 0.05 / 1.50},
        "p_z",
        "0.0467",
        "conventions file 1.4, recomputed there",
    ),
    Row("fractional uncertainty", {"Δx": 0.05, "x": 1.50}, "p", "0.0333", "conventions file 1.4, recomputed there"),
    Row("gradient", {"y_2": 260, "y_1": 210, "x_2": 51, "x_1": 1.0}, "m", "1.0", book("Acceleration from a Graph of Velocity versus Time")),
    Row("gradient", {"y_2": 3120, "y_1": 1300, "x_2": 32, "x_1": 19}, "m", "140", book("Instantaneous Velocity from the Slope: Jet Car")),
    Row("gradient of period squared against length", {"g": 9.80665}, "m", "4.026", "4 pi squared over standard gravity, recomputed"),
    Row("gradient of stopping potential against frequency", {}, "m", "4.13566770e-15", CODATA + ", Planck constant in eV/Hz"),
)


def test_the_table_is_wide() -> None:
    assert len({row.relationship for row in TABLE}) >= 150
    assert {row.relationship for row in TABLE} <= set(relationships())
    assert all(row.source and (row.slack == 0.5 or row.because) for row in TABLE)


@pytest.mark.parametrize("row", TABLE, ids=str)
def test_printed_value(row: Row) -> None:
    digits, _, power = row.printed.partition("e")
    place = 10.0 ** (int(power or 0) - len(digits.partition(".")[2]))
    assert abs(_solved(row) - float(row.printed)) <= row.slack * place * 1.0001


def _solved(row: Row) -> float:
    """The value of the wanted quantity near the printed one, in the unit of the row."""
    relationship = relationships()[row.relationship]
    angles = {s for s, q in relationship["quantities"].items() if quantities()[q].get("angle")} if not row.radians else set()
    known = {s: math.radians(x) if s in angles else x for s, x in row.given.items()}
    fixed = {s: float(constants()[s]["value"]) for s in relationship.get("constants", []) if s not in known and s != row.find}
    left, right = sides(relationship["equation"])
    assert letters(relationship["equation"]) == set(known) | set(fixed) | {row.find}
    expected = math.radians(float(row.printed)) if row.find in angles else float(row.printed)

    def gap(x: float) -> float:
        values = {**fixed, **known, row.find: x}
        return float(evaluate(left, values, REAL) - evaluate(right, values, REAL))

    root = float(brentq(gap, *sorted((expected * 0.93, expected * 1.07)), xtol=abs(expected) * 1e-13, rtol=1e-14))
    return math.degrees(root) if row.find in angles else root
