package androidx.test.runner.intent;

/** Stands in for the class of that name, which Maven Central does not carry; Robolectric calls it. */
public interface IntentMonitor {}
