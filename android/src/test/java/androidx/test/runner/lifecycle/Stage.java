package androidx.test.runner.lifecycle;

/** Stands in for the class of that name, which Maven Central does not carry; Robolectric calls it. */
public enum Stage { PRE_ON_CREATE, CREATED, STARTED, RESUMED, PAUSED, STOPPED, RESTARTED, DESTROYED }
