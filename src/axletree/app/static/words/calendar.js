// The words of the page about the nights: figures in, sentences out.

import { day } from "../shared/words.js";

export const SCORING = "Scoring a year of nights";
export const CHOOSING = "Choosing nights";
export const NONE = "No night has darkness for stars within your hours.";
export const NONE_SPECIAL = "Nothing great in the sky in this year.";
export const NIGHT = "Night";
const MONTHS = [
  "January",
  "February",
  "March",
  "April",
  "May",
  "June",
  "July",
  "August",
  "September",
  "October",
  "November",
  "December",
];

export const DEEP_SKY = "deep sky";
export const BODIES = "planets";
export const MOON = "Moon up";
export const month = (number, year, withYear) => `${MONTHS[number - 1]}${withYear ? ` ${year}` : ""}`;

export const counted = (data) =>
  `${data.wanted_stops} stops of ${data.stop_min.toFixed(0)} minutes each with moving are what your hours hold or you want. ${data.objects_that_can_show.toLocaleString("en-GB")} of ${data.objects_considered.toLocaleString("en-GB")} objects can show from here. The weather is not in it.`;
export const sheet = (first, last) => `The nights from ${day(first)} to ${day(last)}`;
const figures = ([, score, deep, bodies]) =>
  `${score.toFixed(0)} of 100 (deep sky ${deep.toFixed(0)}, Moon and planets ${bodies.toFixed(0)})`;
export const value = (date, night) => `${day(date)}, score ${figures(night)}`;
export const rank = (date, night, best, among) =>
  `${date.slice(0, 4)}: ${figures(night)}${best ? ", the best of these nights" : among ? ", one of the best" : ""}`;
export const stops = (night) =>
  night.stops ? ` ${night.stops} stops fit; ${night.objects_showing} objects could be shown.` : "";
