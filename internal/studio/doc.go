// Package studio holds the nouns of a dance studio: people, classes, lessons, the skill library, and the errors that people read.
package studio
