package androidx.test.runner.intent;

/** Stands in for the class of that name, which Maven Central does not carry; Robolectric calls it. */
public final class IntentStubberRegistry {
  private IntentStubberRegistry() {}

  public static boolean isLoaded() {
    return false;
  }

  public static IntentStubber getInstance() {
    throw new IllegalStateException("no stubber is ever loaded");
  }
}
