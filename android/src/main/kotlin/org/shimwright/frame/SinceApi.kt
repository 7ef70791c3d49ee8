package org.shimwright.frame

/**
 * A function that calls something newer than the lowest supported Android, behind a check of the version.
 * The API gate skips what carries this mark, so the check must be at the one place that calls it.
 */
@Target(AnnotationTarget.FUNCTION)
@Retention(AnnotationRetention.BINARY)
annotation class SinceApi(val level: Int)
