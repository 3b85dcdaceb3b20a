// Package view works out what the pages, the figures and the JSON show, as numbers: lengths in mm,
// angles in mrad, shares of a limit as ratios, nothing rounded and nothing in words. Up, left and
// toward the last machine are positive. It is the only package of the program that asks
// optimize and readings; what it hands on is laid out by others.
package view
